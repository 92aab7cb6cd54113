import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import type { FastifyReply } from 'fastify'
import type { LadderDesign } from '../../analysis/index.js'
import { Binary, failures } from '../api/common.js'
import { CardQuery, CouponQuery, DesignQuery } from '../api/ladders.js'
import { ServiceError } from '../plugins/errors.js'
import { layOut } from './lay-out.js'

const response = { 200: Binary, ...failures }
const tags = ['ladders']

/** The geometry kernel and the fonts take their time to load: when the first file is asked for. */
const printables = () => import('../printables/index.js')

/** A file to be saved under a name that says which ladder it belongs to. */
const asFile = (reply: FastifyReply, { ladderId }: LadderDesign, name: string) =>
  reply.header('content-disposition', `attachment; filename="stepglass-${ladderId}-${name}"`)

function checkSlot({ exposuresS, slot }: LadderDesign & { slot: number }): void {
  if (slot <= exposuresS.length) return
  const message = `The ladder has ${exposuresS.length} rungs; there is no slot ${slot}.`
  throw new ServiceError(400, 'no-such-slot', message, `Ask for a slot from 1 to ${exposuresS.length}.`)
}

/** Files to print. The design stands in the query, so that nothing need be stored. */
const printableRoutes: FastifyPluginAsyncTypebox = async (app) => {
  app.get(
    '/ladders/card.pdf',
    { schema: { tags, summary: 'The card as PDF', querystring: CardQuery, response, produces: ['application/pdf'] } },
    async ({ query: { paper = 'a4', ...design } }, reply) => {
      const file = await (await printables()).cardPdf(layOut(design), paper)
      return asFile(reply.type('application/pdf'), design, `card-${paper}.pdf`).send(file)
    },
  )

  app.get(
    '/ladders/card.png',
    { schema: { tags, summary: 'The card as PNG', querystring: DesignQuery, response, produces: ['image/png'] } },
    async ({ query: design }, reply) => {
      const file = await (await printables()).cardPng(layOut(design).card)
      return asFile(reply.type('image/png'), design, 'card.png').send(file)
    },
  )

  app.get(
    '/ladders/coupon.stl',
    {
      schema: { tags, summary: 'One coupon as STL', querystring: CouponQuery, response, produces: ['model/stl'] },
    },
    async ({ query: { slot, ...design } }, reply) => {
      checkSlot({ slot, ...design })
      const file = await (await printables()).couponStl(layOut(design), slot)
      return asFile(reply.type('model/stl'), design, `slot-${slot}.stl`).send(file)
    },
  )

  app.get(
    '/ladders/coupon.3mf',
    {
      schema: { tags, summary: 'One coupon as 3MF', querystring: CouponQuery, response, produces: ['model/3mf'] },
    },
    async ({ query: { slot, ...design } }, reply) => {
      checkSlot({ slot, ...design })
      const file = await (await printables()).coupon3mf(layOut(design), slot)
      return asFile(reply.type('model/3mf'), design, `slot-${slot}.3mf`).send(file)
    },
  )

  app.get(
    '/ladders/kit.zip',
    {
      schema: {
        tags,
        summary: 'All that a ladder needs: coupons, cards, print order',
        querystring: DesignQuery,
        response,
        produces: ['application/zip'],
      },
    },
    async ({ query: design }, reply) => {
      // The same ladder always gets the same print order.
      const file = await (await printables()).ladderArchive(layOut(design), { seed: design.ladderId })
      return asFile(reply.type('application/zip'), design, 'kit.zip').send(file)
    },
  )
}
export default printableRoutes
