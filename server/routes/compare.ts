import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { compareReadings, Comparison, type LabelledReading } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import { CompareQuery } from '../api/compare.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'

/** Coupons of several photographs against each other. */
const compare: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store } }) => {
  async function labelled(readingId: string): Promise<LabelledReading> {
    const found = await store.readings.summary(readingId)
    if (!found) {
      throw new ServiceError(
        404,
        'no-such-reading',
        `There is no reading ${readingId}.`,
        'Look for it in /api/readings.',
      )
    }
    const { photoName, photoId, createdAt } = found
    const result = await store.readings.concluded(readingId)
    if (!result || 'refusal' in result) {
      throw new ServiceError(422, 'not-read', `Reading ${readingId} has no rungs.`, 'Wait for it, or leave it out.')
    }
    const labels = await store.ladders.labelsOf(result.design.ladderId)
    // Two photographs may have the same file name.
    return { reading: result, photo: `${photoName} ${photoId.slice(0, 6)}`, labels, date: createdAt }
  }

  app.get(
    '/compare',
    {
      schema: {
        tags: ['compare'],
        summary: 'Coupons of several readings by bottle, printer, exposure and the like, and over time',
        querystring: CompareQuery,
        response: { 200: Comparison, ...failures },
      },
    },
    async ({ query: { readings, ...options } }) => {
      const compared = compareReadings(await Promise.all([...new Set(readings)].map(labelled)), options)
      if (compared.ok) return compared.value
      const { code, advice, detail } = compared.refusal
      throw new ServiceError(422, code, detail ?? code, advice)
    },
  )
}
export default compare
