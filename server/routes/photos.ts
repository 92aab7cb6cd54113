import multipart, { type Multipart } from '@fastify/multipart'
import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { extname } from 'node:path'
import { Type } from 'typebox'
import { Value } from 'typebox/value'
import { Binary, failures } from '../api/common.js'
import {
  LeaveOutRequest,
  LeftOutList,
  LeftOutParams,
  PhotoAccepted,
  PhotoParams,
  PictureQuery,
  ReadingOptions,
  UploadId,
  UploadParams,
} from '../api/readings.js'
import { describeSchemaErrors, ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import type { ReceivedPhoto } from '../storage/incoming-photos.js'
import type { PhotoFacts } from '../storage/store.js'

const MAX_BYTES = 60e6
const EXTENSIONS = new Set(['jpg', 'jpeg', 'png', 'webp', 'tif', 'tiff', 'avif', 'heic', 'heif'])
const FIELDS = Object.keys(ReadingOptions.properties)

const refuse = (code: string, message: string, advice: string) => new ServiceError(400, code, message, advice)

function factsOf(fileName: string): PhotoFacts {
  const extension = extname(fileName).slice(1).toLowerCase()
  return {
    name: fileName.slice(-200),
    // What the file really is, the reader finds out; the name only helps whoever looks into the folder.
    extension: EXTENSIONS.has(extension) ? extension : 'photo',
    simulated: false,
  }
}

/** A list arrives as JSON; what is none is left for the schema to refuse. */
function fromJson(text: unknown): unknown {
  try {
    return JSON.parse(String(text))
  } catch {
    return text
  }
}

function uploadIdOf(uploadId: unknown): string | undefined {
  if (uploadId === undefined || Value.Check(UploadId, uploadId)) return uploadId
  throw refuse('invalid-request', 'form/uploadId is not as it should be', 'Take 16 to 64 letters, digits or hyphens.')
}

/** Numbers arrive as text in a form. */
function optionsOf({ caliperMm, turnedSlots, ...fields }: Readonly<Record<string, unknown>>): ReadingOptions {
  const options: unknown = Value.Convert(ReadingOptions, {
    ...fields,
    ...(caliperMm === undefined ? {} : { caliperMm: fromJson(caliperMm) }),
    ...(turnedSlots === undefined ? {} : { turnedSlots: fromJson(turnedSlots) }),
  })
  if (Value.Check(ReadingOptions, options)) return options
  throw refuse(
    'invalid-request',
    describeSchemaErrors(Value.Errors(ReadingOptions, options), 'form'),
    `Besides the photograph, the form takes ${FIELDS.join(', ')}: numbers, caliperMm as JSON like [{"slot":1,"widthMm":4.02}], turnedSlots like [2,4].`,
  )
}

interface Upload {
  readonly photo: ReceivedPhoto
  readonly facts: PhotoFacts
  readonly fields: Readonly<Record<string, unknown>>
}

/** Uploads, and the photographs themselves. */
const photos: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store, queue, pictures, maxWaiting, pace, metrics } = service
  let arriving = 0
  await app.register(multipart, {
    limits: { fileSize: MAX_BYTES, files: 1, fields: FIELDS.length + 1, fieldSize: 1000 },
  })

  /** Takes the form apart as it comes in. Whatever is wrong with it, no file is left behind. */
  async function receive(parts: AsyncIterable<Multipart>): Promise<Upload> {
    const fields: Record<string, unknown> = {}
    let photo: ReceivedPhoto | undefined
    let facts: PhotoFacts | undefined
    try {
      for await (const part of parts)
        if (part.type === 'field') fields[part.fieldname] = part.value
        else {
          photo = await store.files.receive(part.file)
          facts = factsOf(part.filename)
          if (part.fieldname !== 'photo')
            throw refuse('invalid-request', `form/${part.fieldname} is not known`, 'Name the file field "photo".')
        }
      if (!photo || !facts)
        throw refuse('no-photo', 'The form has no photograph.', 'Send one file as the field "photo".')
      if (photo.bytes === 0)
        throw refuse('empty-file', 'The photograph is an empty file.', 'Choose it again; the copy may have failed.')
      return { photo, facts, fields }
    } catch (error) {
      if (photo) await store.files.discard(photo)
      throw error
    }
  }

  app.post(
    '/photos',
    {
      // The form is read as a stream and checked part by part; the schema is for the description.
      validatorCompiler: () => () => true,
      schema: {
        tags: ['readings'],
        summary: 'Keep a photograph and read it',
        description: 'Answers when the photograph is safely on the disk. The same one again gives the same reading.',
        consumes: ['multipart/form-data'],
        body: Type.Object({
          photo: Type.String({ format: 'binary' }),
          uploadId: Type.Optional(UploadId),
          ...ReadingOptions.properties,
        }),
        response: { 202: PhotoAccepted, ...failures },
      },
    },
    async (request, reply) => {
      // Those still on their way take a place, too.
      const before = ++arriving
      try {
        if ((await store.readings.waiting()) + before > maxWaiting) {
          metrics.turnedAway.inc()
          const waitS = await pace.nextPlaceS()
          void reply.header('retry-after', waitS)
          throw new ServiceError(
            429,
            'too-many-waiting',
            'Too many photographs wait to be read.',
            `Send this one again in ${waitS} s.`,
          )
        }
        const { photo, facts, fields } = await receive(request.parts())
        const { uploadId, ...options } = fields
        const accepting = async () => store.accept(photo, facts, optionsOf(options), uploadIdOf(uploadId))
        const accepted = await accepting().finally(() => store.files.discard(photo))
        queue.wake()
        const waiting = await pace.waitingOf(accepted.readingId, store.readings)
        return await reply.code(202).send({ ...accepted, ...(waiting && { waiting }) })
      } finally {
        arriving--
      }
    },
  )

  app.get(
    '/uploads/:uploadId',
    {
      schema: {
        tags: ['readings'],
        summary: 'What an upload became, for whoever lost the connection before the answer',
        params: UploadParams,
        response: { 200: PhotoAccepted, ...failures },
      },
    },
    async ({ params: { uploadId } }) => {
      const accepted = await store.uploaded(uploadId)
      if (accepted) return accepted
      throw new ServiceError(404, 'no-such-upload', `No upload ${uploadId} has arrived.`, 'Send the photograph again.')
    },
  )

  const leaveOut = async (photoId: string, slot: number, reason?: string) => {
    if (await store.leaveOut(photoId, slot, reason)) return { leftOut: await store.leftOut.of(photoId) }
    throw new ServiceError(404, 'no-such-photo', `There is no photograph ${photoId}.`, 'Upload it first.')
  }
  const leftOut = { tags: ['readings'], params: LeftOutParams, response: { 200: LeftOutList, ...failures } }

  app.put(
    '/photos/:photoId/left-out/:slot',
    { schema: { ...leftOut, summary: 'Take a coupon out of the answer', body: LeaveOutRequest } },
    ({ params: { photoId, slot }, body: { reason } }) => leaveOut(photoId, slot, reason),
  )

  app.delete(
    '/photos/:photoId/left-out/:slot',
    { schema: { ...leftOut, summary: 'Take a coupon in again' } },
    ({ params: { photoId, slot } }) => leaveOut(photoId, slot),
  )

  app.get(
    '/photos/:photoId/image',
    {
      schema: {
        tags: ['readings'],
        summary: 'The photograph as an upright JPEG without its metadata',
        params: PhotoParams,
        querystring: PictureQuery,
        response: { 200: Binary, ...failures },
        produces: ['image/jpeg'],
      },
    },
    async (request, reply) => {
      const { photoId } = request.params
      const { width = 1600 } = request.query
      const picture = await store.usePhoto(photoId, (path) => pictures.jpeg(path, photoId, width))
      if (!picture)
        throw new ServiceError(404, 'no-such-photo', `There is no photograph ${photoId}.`, 'Upload it first.')
      return reply.type('image/jpeg').header('cache-control', 'private, max-age=31536000, immutable').send(picture)
    },
  )
}
export default photos
