import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { failures } from '../api/common.js'
import { LinkEntry, LinkList, LinkParams, LinkRequest, NewLink, SheetParams } from '../api/sheets.js'
import type { Service } from '../service.js'
import { findSheets, missing } from './find-sheets.js'

const tags = ['hand on']

/** Links that lead to one sheet. */
const sheetLinks: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store } = service
  const { entryOf } = findSheets(service)

  app.post(
    '/sheets/:sheetId/links',
    {
      schema: {
        tags,
        summary: 'An address under which the sheet can be read and nothing else',
        params: SheetParams,
        body: LinkRequest,
        response: { 201: NewLink, ...failures },
      },
    },
    async ({ params: { sheetId }, body: { days } }, reply) => {
      await entryOf(sheetId)
      return reply.code(201).send(await store.sheets.addLink(sheetId, days))
    },
  )

  app.get(
    '/sheets/:sheetId/links',
    { schema: { tags, summary: 'Its links', params: SheetParams, response: { 200: LinkList, ...failures } } },
    async ({ params: { sheetId } }) => ({ links: await store.sheets.links(sheetId) }),
  )

  app.delete(
    '/sheets/:sheetId/links/:linkId',
    { schema: { tags, summary: 'Revoke a link', params: LinkParams, response: { 200: LinkEntry, ...failures } } },
    async ({ params: { sheetId, linkId } }) => {
      await store.sheets.revoke(sheetId, linkId)
      const link = (await store.sheets.links(sheetId)).find((one) => one.linkId === linkId)
      if (!link) throw missing('link', linkId)
      return link
    },
  )
}
export default sheetLinks
