import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { LadderLayout, spreadLadder } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import {
  DesignQuery,
  LadderEntry,
  LadderList,
  LadderListQuery,
  LadderParams,
  LadderPatch,
  LadderRecord,
  PlanRequest,
} from '../api/ladders.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { layOut } from './lay-out.js'
import { checkLinks } from './records.js'

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
      const { layerHeightUm, pixelPitchUm, facts = {} } = request.body
      const planned = { layerHeightUm, pixelPitchUm, exposuresS: exposuresOf(request.body) }
      layOut({ ladderId: '0000', ...planned })
      await checkLinks(store, facts)
      return reply.code(201).send(await store.ladders.plan(planned, facts))
    },
  )

  app.get(
    '/ladders',
    {
      schema: {
        tags,
        summary: 'Ladders, newest first, each with its next step',
        querystring: LadderListQuery,
        response: { 200: LadderList, ...failures },
      },
    },
    ({ query }) => store.ladders.list(query),
  )

  const find = async (ladderId: string) => {
    const entry = await store.ladders.get(ladderId)
    if (entry) return entry
    throw new ServiceError(404, 'no-such-ladder', `There is no ladder ${ladderId}.`, 'Look for it in /api/ladders.')
  }

  app.get(
    '/ladders/:ladderId',
    { schema: { tags, summary: 'One ladder', params: LadderParams, response: { 200: LadderEntry, ...failures } } },
    ({ params }) => find(params.ladderId),
  )

  app.patch(
    '/ladders/:ladderId',
    {
      schema: {
        tags,
        summary: 'Say what the coupons of a ladder are of, tick off its steps, or put it away',
        params: LadderParams,
        body: LadderPatch,
        response: { 200: LadderEntry, ...failures },
      },
    },
    async ({ params: { ladderId }, body }) => {
      const { labels: before = {} } = await find(ladderId)
      const all = { ...before, ...body.labels }
      const labels = Object.fromEntries(
        Object.entries(all).flatMap(([name, value]) => (value.trim() ? [[name, value.trim()]] : [])),
      )
      if (body.facts) await checkLinks(store, body.facts)
      await store.ladders.change(ladderId, { ...body, labels })
      return find(ladderId)
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
