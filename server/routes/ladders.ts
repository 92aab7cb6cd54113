import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { LadderLayout, spreadLadder } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import { DesignQuery, LadderList, LadderParams, LadderPatch, LadderRecord, PlanRequest } from '../api/ladders.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { layOut } from './lay-out.js'

const tags = ['ladders']

function exposuresOf({ exposuresS, range }: PlanRequest): number[] {
  if (exposuresS && !range) return exposuresS
  if (range && !exposuresS && range.fromS < range.toS) return spreadLadder(range)
  throw new ServiceError(
    400,
    'invalid-request',
    'The body needs either exposuresS or a range that goes up.',
    'Give the exposures themselves, or from where to where they shall go.',
  )
}

/** What is planned and printed. */
const ladders: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store } = service

  app.post(
    '/ladders/plan',
    {
      schema: {
        tags,
        summary: 'Name a ladder and set its exposures',
        body: PlanRequest,
        response: { 201: LadderRecord, ...failures },
      },
    },
    async (request, reply) => {
      const { layerHeightUm, pixelPitchUm } = request.body
      const planned = { layerHeightUm, pixelPitchUm, exposuresS: exposuresOf(request.body) }
      layOut({ ladderId: '0000', ...planned })
      return reply.code(201).send(await store.ladders.plan(planned))
    },
  )

  app.get(
    '/ladders',
    { schema: { tags, summary: 'All ladders, newest first', response: { 200: LadderList, ...failures } } },
    () => store.ladders.list(),
  )

  app.patch(
    '/ladders/:ladderId',
    {
      schema: {
        tags,
        summary: 'Say what the coupons of a ladder are of',
        params: LadderParams,
        body: LadderPatch,
        response: { 200: LadderRecord, ...failures },
      },
    },
    async ({ params: { ladderId }, body: { labels } }) => {
      const all = { ...(await store.ladders.labelsOf(ladderId)), ...labels }
      const kept = Object.fromEntries(
        Object.entries(all).flatMap(([name, value]) => (value.trim() ? [[name, value.trim()]] : [])),
      )
      const record = await store.ladders.label(ladderId, kept)
      if (record) return record
      throw new ServiceError(404, 'no-such-ladder', `There is no ladder ${ladderId}.`, 'Look for it in /api/ladders.')
    },
  )

  app.get(
    '/layout',
    {
      schema: {
        tags,
        summary: 'The geometry of coupon and card, in mm',
        querystring: DesignQuery,
        response: { 200: LadderLayout, ...failures },
      },
    },
    ({ query }) => layOut(query),
  )
}
export default ladders
