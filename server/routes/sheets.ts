import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { Binary, failures } from '../api/common.js'
import { RecordParams } from '../api/records.js'
import {
  LabelQuery,
  PaperQuery,
  SheetEntry,
  SheetFormParams,
  SheetList,
  SheetParams,
  SheetRequest,
} from '../api/sheets.js'
import type { Service } from '../service.js'
import { sendSheet } from '../sheets/forms.js'
import { makeSheet } from '../sheets/gather.js'
import { labelPart } from '../sheets/label-text.js'
import { publicKeyOf, signed } from '../sheets/signature.js'
import { findSheets, today } from './find-sheets.js'

const tags = ['hand on']

/** Sheets of settings, in every form. */
const sheets: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store } = service
  const { settingOf, entryOf } = findSheets(service)

  app.post(
    '/settings/:recordId/sheets',
    {
      schema: {
        tags,
        summary: 'Make a setting sheet',
        params: RecordParams,
        body: SheetRequest,
        response: { 201: SheetEntry, ...failures },
      },
    },
    async ({ params: { recordId }, body }, reply) => {
      const sheet = await makeSheet(service, (await settingOf(recordId)).content, body, today())
      const final = body.signed ? signed(sheet, await store.signing.pem()) : sheet
      return reply.code(201).send(await store.sheets.add(recordId, final))
    },
  )

  app.get(
    '/settings/:recordId/sheets',
    {
      schema: {
        tags,
        summary: 'Its sheets, newest first',
        params: RecordParams,
        response: { 200: SheetList, ...failures },
      },
    },
    async ({ params: { recordId } }) => ({ sheets: await store.sheets.ofSetting(recordId) }),
  )

  app.get(
    '/sheets/:sheetId/as/:form',
    {
      schema: {
        tags,
        summary: 'A sheet as JSON, page, paper, picture or message',
        params: SheetFormParams,
        querystring: PaperQuery,
        response: { 200: Binary, ...failures },
      },
    },
    async ({ params: { sheetId, form }, query: { paper } }, reply) =>
      sendSheet(reply, (await entryOf(sheetId)).sheet, { form, paper }),
  )

  app.get(
    '/sheets/:sheetId/label',
    {
      schema: {
        tags,
        summary: 'A label for the bottle, with a code that holds the setting',
        params: SheetParams,
        querystring: LabelQuery,
        response: { 200: Binary, ...failures },
        produces: ['application/pdf'],
      },
    },
    async ({ params: { sheetId }, query: { size = '70x36' } }, reply) => {
      const { sheet } = await entryOf(sheetId)
      const part = labelPart(sheet)
      const ours = sheet.signature && sheet.signature.publicKey === publicKeyOf(await store.signing.pem())
      const { labelPdf } = await import('../sheets/label-pdf.js')
      return reply
        .type('application/pdf')
        .header('content-disposition', `attachment; filename="stepglass-label-${sheetId}.pdf"`)
        .send(await labelPdf(ours ? signed(part, await store.signing.pem()) : part, size))
    },
  )
}
export default sheets
