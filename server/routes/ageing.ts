import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { AgeingReply } from '../api/ageing.js'
import { failures } from '../api/common.js'
import { LadderParams } from '../api/ladders.js'
import { answerAgeing } from '../finish/ageing.js'
import type { Service } from '../service.js'

/** The same coupons photographed again and again. */
const ageing: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store } }) => {
  app.get(
    '/ladders/:ladderId/ageing',
    {
      schema: {
        tags: ['ladders'],
        summary: 'How haze and yellowness of the coupons of a ladder go with time',
        params: LadderParams,
        response: { 200: AgeingReply, ...failures },
      },
    },
    async ({ params: { ladderId } }) => {
      const found = await store.readings.ofLadder(ladderId)
      return answerAgeing(
        found.flatMap(({ summary: { readingId, createdAt }, result }) =>
          'refusal' in result ? [] : [{ readingId, date: createdAt, reading: result }],
        ),
      )
    },
  )
}
export default ageing
