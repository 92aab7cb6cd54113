import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { Binary, failures } from '../api/common.js'
import { RecordParams, type Printer } from '../api/records.js'
import {
  Adapted,
  AdaptRequest,
  BatchParams,
  BatchQuery,
  SideBySide,
  SideBySideQuery,
  type SettingSheet,
} from '../api/sheets.js'
import type { Service } from '../service.js'
import { adaptSetting } from '../sheets/adapt.js'
import { latestIrradiance } from '../sheets/latest-irradiance.js'
import { sideBySide } from '../sheets/differences.js'
import { findSheets, missing, today } from './find-sheets.js'

const tags = ['hand on']

/** What is done with settings, one's own and received ones: compared, carried to another printer, published as a table. */
const settingUses: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store } = service
  const { sheetFor } = findSheets(service)

  app.get(
    '/settings/side-by-side',
    {
      schema: {
        tags,
        summary: 'Two settings, and what differs',
        querystring: SideBySideQuery,
        response: { 200: SideBySide, ...failures },
      },
    },
    async ({ query: { first, second } }) => sideBySide(await sheetFor(first), await sheetFor(second)),
  )

  app.post(
    '/settings/:recordId/adapt',
    {
      schema: {
        tags,
        summary: 'Carry a setting to another printer',
        params: RecordParams,
        body: AdaptRequest,
        response: { 200: Adapted, ...failures },
      },
    },
    async ({ params: { recordId }, body: { printerId, fromMwPerCm2, toMwPerCm2, timeStepS } }) => {
      const record = printerId === undefined ? undefined : await store.records.get('printer', printerId)
      if (printerId !== undefined && !record) throw missing('printer', printerId)
      const printer = record?.content as Printer | undefined
      return adaptSetting(await sheetFor(recordId), {
        fromMwPerCm2,
        mwPerCm2: toMwPerCm2 ?? latestIrradiance(printer),
        timeStepS: timeStepS ?? printer?.timeStepS,
      })
    },
  )

  app.get(
    '/settings/table/:form',
    {
      schema: {
        tags,
        summary: 'Many settings as one page, CSV or JSON',
        params: BatchParams,
        querystring: BatchQuery,
        response: { 200: Binary, ...failures },
      },
    },
    async ({ params: { form }, query: { ids, title } }, reply) => {
      const { settingTable, tableCsv, tableHtml } = await import('../sheets/setting-table.js')
      const chosen: SettingSheet[] = []
      for (const recordId of new Set(ids.split(','))) chosen.push(await sheetFor(recordId))
      const table = settingTable(chosen, today(), title)
      const [type, body] = {
        html: () => ['text/html; charset=utf-8', tableHtml(table)] as const,
        csv: () => ['text/csv; charset=utf-8', tableCsv(table)] as const,
        json: () => ['application/json; charset=utf-8', JSON.stringify(table, null, 2)] as const,
      }[form]()
      return reply
        .type(type)
        .header('content-disposition', `attachment; filename="stepglass-settings.${form}"`)
        .send(Buffer.from(body))
    },
  )
}
export default settingUses
