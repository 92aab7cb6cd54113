import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { Readable } from 'node:stream'
import { archiveContents, exportArchive, MAX_ARCHIVE } from '../archive/export-archive.js'
import { importArchive, unusableArchive } from '../archive/import-archive.js'
import { readingsCsv } from '../archive/readings-csv.js'
import { ImportReply } from '../api/archive.js'
import { Binary, BinaryStream, failures } from '../api/common.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'

const tags = ['records']
const response = { 200: BinaryStream, ...failures }
const today = () => new Date().toISOString().slice(0, 10)

/** Everything out and in again, as open files. */
const archive: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store, queue } }) => {
  app.addContentTypeParser('application/zip', (_request, payload, done) => done(null, payload))

  app.get(
    '/archive.zip',
    {
      schema: {
        tags,
        summary: 'Everything on record as one zip: JSON and photographs',
        produces: ['application/zip'],
        response,
      },
    },
    async (_request, reply) => {
      const contents = await archiveContents(store)
      const bytes = contents.photos.reduce((sum, photo) => sum + photo.bytes, 0)
      if (bytes > MAX_ARCHIVE.bytes || contents.photos.length + contents.readings.length > MAX_ARCHIVE.files)
        throw new ServiceError(
          409,
          'too-much-for-one-file',
          'There is more on record than one zip can hold.',
          'Stop the service and copy its data folder instead; it holds everything.',
        )
      void reply
        .type('application/zip')
        .header('content-disposition', `attachment; filename="stepglass-${today()}.zip"`)
      return reply.send(Readable.from(exportArchive(store, contents)))
    },
  )

  app.post(
    '/archive',
    {
      bodyLimit: MAX_ARCHIVE.bytes,
      // The zip is taken in as a stream; what it holds is checked on the way.
      validatorCompiler: () => () => true,
      schema: {
        tags,
        summary: 'Add what such a zip holds; what is here already stays as it is',
        consumes: ['application/zip'],
        body: Binary,
        response: { 200: ImportReply, ...failures },
      },
    },
    async ({ body }) => {
      const chunks: unknown = body
      if (!(chunks instanceof Readable))
        throw unusableArchive('What was sent is no zip.', 'Send it as application/zip.')
      const reply = await importArchive(store, chunks)
      queue.wake()
      return reply
    },
  )

  app.get(
    '/readings.csv',
    { schema: { tags, summary: 'Every coupon of every reading as a table', produces: ['text/csv'], response } },
    async (_request, reply) => {
      void reply
        .type('text/csv; charset=utf-8')
        .header('content-disposition', `attachment; filename="stepglass-readings-${today()}.csv"`)
      return reply.send(Readable.from(readingsCsv(store)))
    },
  )
}
export default archive
