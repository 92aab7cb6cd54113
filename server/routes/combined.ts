import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { combineReadings } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import { CombinedParams, CombinedQuery, CombinedReply } from '../api/readings.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'

/** One answer from all photographs of a ladder. */
const combined: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  app.get(
    '/ladders/:ladderId/combined',
    {
      schema: {
        tags: ['ladders'],
        summary: 'What all photographs of a ladder say together',
        description:
          'Takes the newest finished reading of each photograph; wishes such as the tolerance are those of the newest of all.',
        params: CombinedParams,
        querystring: CombinedQuery,
        response: { 200: CombinedReply, ...failures },
      },
    },
    async ({ params: { ladderId }, query: { without = [] } }) => {
      const found = await service.store.readings.ofLadder(ladderId)
      if (found.length === 0)
        throw new ServiceError(
          404,
          'no-such-ladder',
          `No photograph of a ladder ${ladderId} has been read.`,
          'Upload one first.',
        )
      const readings = found.map(({ summary, result }) => ({
        summary: { ...summary, used: !without.includes(summary.photoId) },
        result,
      }))
      const used = readings.flatMap(({ summary, result }) => (summary.used && !('refusal' in result) ? [result] : []))
      const newest = found.reduce((a, b) => (a.summary.createdAt > b.summary.createdAt ? a : b))
      const { caliperMm: _ofThatPhoto, ...wishes } = newest.summary.options
      const outcome = combineReadings(used, wishes)
      return {
        readings: readings.map(({ summary }) => summary),
        ...(outcome.ok ? { combined: outcome.value } : { refusal: outcome.refusal }),
      }
    },
  )
}
export default combined
