import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { LadderLayout, printTimesS, rungText, spreadLadder } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import {
  DesignQuery,
  LadderEntry,
  LadderList,
  LadderListQuery,
  LadderParams,
  LadderPatch,
  LadderPlan,
  LadderRecord,
  PlanRequest,
} from '../api/ladders.js'
import { printOrder } from '../printables/print-order.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { layOut } from './lay-out.js'
import { checkLinks } from './records.js'

const tags = ['ladders']

function exposuresOf({ exposuresS, range, levels }: PlanRequest): number[] {
  const [shared, ...others] = exposuresS ?? []
  if (levels && shared !== undefined && others.length === 0) return levels.map(() => shared)
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
      const { layerHeightUm, pixelPitchUm, factor, levels, facts = {} } = request.body
      const planned = {
        layerHeightUm,
        pixelPitchUm,
        exposuresS: exposuresOf(request.body),
        ...(factor && { factor }),
        ...(levels && { levels }),
      }
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

  app.get(
    '/ladders/:ladderId/plan',
    {
      schema: {
        tags,
        summary: 'In which order to print a ladder, and how long that takes',
        params: LadderParams,
        response: { 200: LadderPlan, ...failures },
      },
    },
    async ({ params }) => {
      const { design } = await find(params.ladderId)
      const times = printTimesS({
        exposuresS: design.exposuresS,
        layerUm: design.layerHeightUm,
        heightMm: layOut(design).coupon.sizeMm.y,
      })
      // The archive of files draws its order from the same seed.
      const order = printOrder(
        design.exposuresS.map((_, i) => i + 1),
        design.ladderId,
      ).map((slot) => ({
        slot,
        exposureS: design.exposuresS[slot - 1] ?? 0,
        rung: rungText(design, slot),
        printS: times[slot - 1] ?? 0,
      }))
      return { order, totalS: times.reduce((sum, time) => sum + time, 0) }
    },
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
      const { labels: before = {}, facts } = await find(ladderId)
      const all = { ...before, ...body.labels }
      const labels = Object.fromEntries(
        Object.entries(all).flatMap(([name, value]) => (value.trim() ? [[name, value.trim()]] : [])),
      )
      if (body.facts) await checkLinks(store, body.facts)
      await store.atOnce(async ({ ladders, readings }) => {
        await ladders.change(ladderId, { ...body, labels })
        // How a coupon was printed bears on the fit, not on what was measured.
        if (body.facts && String(body.facts.turnedSlots ?? '') !== String(facts.turnedSlots ?? ''))
          await readings.concludeLadder(ladderId)
      })
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
