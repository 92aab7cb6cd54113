import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { fastifySSE } from '@fastify/sse'
import { Binary, failures } from '../api/common.js'
import {
  PhotoAccepted,
  PictureQuery,
  ReadingList,
  ReadingListQuery,
  ReadingOptions,
  ReadingParams,
  ReadingReply,
} from '../api/readings.js'
import { ServiceError } from '../plugins/errors.js'
import { withWaiting } from '../worker/with-waiting.js'
import type { Service } from '../service.js'

const tags = ['readings']

/** What photographs say. */
const readings: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store, queue, pictures, pace } = service
  await app.register(fastifySSE)

  async function find(readingId: string): Promise<ReadingReply> {
    const reading = await store.readings.get(readingId)
    if (reading) return reading
    throw new ServiceError(404, 'no-such-reading', `There is no reading ${readingId}.`, 'Look for it in /api/readings.')
  }

  app.get(
    '/readings',
    {
      schema: {
        tags,
        summary: 'All readings in short, newest first',
        querystring: ReadingListQuery,
        response: { 200: ReadingList, ...failures },
      },
    },
    ({ query: { limit = 100, offset = 0, ladderId } }) => store.readings.list({ limit, offset, ladderId }),
  )

  app.get(
    '/readings/:readingId',
    { schema: { tags, summary: 'One reading', params: ReadingParams, response: { 200: ReadingReply, ...failures } } },
    ({ params }) => find(params.readingId),
  )

  app.get(
    '/readings/:readingId/progress',
    {
      sse: 'only',
      schema: {
        tags,
        summary: 'Progress of a reading as server-sent events',
        description: 'Each event carries a ReadingProgress; the stream ends with the state done or failed.',
        params: ReadingParams,
        produces: ['text/event-stream'],
      },
    },
    async (request, reply) => {
      const { readingId } = await find(request.params.readingId)
      const gone = new AbortController()
      request.raw.once('close', () => gone.abort())
      async function* events() {
        for await (const data of withWaiting(queue.follow(readingId, gone.signal), () =>
          pace.waitingOf(readingId, store.readings),
        ))
          yield { data }
      }
      await reply.sse.send(events())
    },
  )

  app.post(
    '/readings/:readingId/again',
    {
      preValidation: async (request) => {
        request.body ??= (await find(request.params.readingId)).options
      },
      schema: {
        tags,
        summary: 'Read the photograph again',
        description:
          'With other options it becomes another reading; with the same ones, or without a body, its result is made anew.',
        params: ReadingParams,
        body: ReadingOptions,
        response: { 202: PhotoAccepted, ...failures },
      },
    },
    async (request, reply) => {
      const { readingId, photoId } = await find(request.params.readingId)
      const wanted = await store.readings.ensure(photoId, request.body)
      if (wanted.readingId === readingId) await store.readings.queue(readingId)
      queue.wake()
      return reply.code(202).send(wanted)
    },
  )

  app.get(
    '/readings/:readingId/overlay.jpg',
    {
      schema: {
        tags,
        summary: 'The photograph with what was read drawn into it',
        params: ReadingParams,
        querystring: PictureQuery,
        response: { 200: Binary, ...failures },
        produces: ['image/jpeg'],
      },
    },
    async (request, reply) => {
      const { photoId, result, state, failure } = await find(request.params.readingId)
      if (!result)
        throw failure
          ? new ServiceError(422, failure.code, failure.message, failure.advice)
          : new ServiceError(409, 'not-read-yet', `The reading is ${state}.`, 'Ask again when it is done.')
      if ('refusal' in result) {
        const { code, advice, detail } = result.refusal
        throw new ServiceError(422, code, detail ?? 'Nothing could be read on this photograph.', advice)
      }
      const { width = 1600 } = request.query
      const picture = await store.usePhoto(photoId, (path) => pictures.jpeg(path, photoId, width, result))
      if (!picture) throw new Error(`reading ${request.params.readingId} has no photograph`)
      return reply.type('image/jpeg').header('cache-control', 'private, no-cache').send(picture)
    },
  )
}
export default readings
