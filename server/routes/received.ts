import multipart from '@fastify/multipart'
import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { Type } from 'typebox'
import { failures } from '../api/common.js'
import type { Setting, StoredRecord } from '../api/records.js'
import { TakenIn, type SettingSheet } from '../api/sheets.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { labelPart, labelText } from '../sheets/label-text.js'
import { readSheet } from '../sheets/take-in.js'
import { findSheets } from './find-sheets.js'

const tags = ['hand on']
const MAX_BYTES = 25e6

/** Sheets from others become settings marked as received. */
const received: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  const { store, pool } = service
  const { settingOf } = findSheets(service)
  await app.register(multipart, { limits: { fileSize: MAX_BYTES, files: 1, fields: 0 }, throwFileSizeLimit: false })

  app.post(
    '/settings/take-in',
    {
      validatorCompiler: () => () => true,
      schema: {
        tags,
        summary: 'Take in a sheet: JSON, HTML, PDF, or a picture of its code',
        consumes: ['multipart/form-data'],
        body: Type.Object({ sheet: Type.String({ format: 'binary' }) }),
        response: { 201: TakenIn, ...failures },
      },
    },
    async (request, reply) => {
      const part = await request.file()
      if (!part) throw new ServiceError(400, 'no-sheet', 'The form has no file.', 'Send one file as the field "sheet".')
      const received = await store.files.receive(part.file)
      try {
        if (part.file.truncated)
          throw new ServiceError(
            413,
            'file-too-large',
            `The file is larger than ${MAX_BYTES / 1e6} MB; a sheet has far less.`,
            'Choose the sheet itself, or a photograph of its code in an ordinary size.',
          )
        const known = new Map((await store.sheets.knownKeys()).map(({ publicKey, name }) => [publicKey, name]))
        const { sheet, verification, from } = readSheet(await pool.extractSetting(received.file), (key) =>
          known.get(key),
        )
        return await reply.code(201).send(await takeIn(sheet, verification, from))
      } finally {
        await store.files.discard(received)
      }
    },
  )

  /** The same sheet again is the same setting. */
  async function takeIn(sheet: SettingSheet, verification: TakenIn['verification'], from: TakenIn['from']) {
    const before = await store.sheets.get(sheet.sheetId)
    if (before) {
      // A label says less than its sheet; what both say is the same.
      if (labelText(labelPart(before.sheet)) !== labelText(labelPart(sheet)))
        throw new ServiceError(
          409,
          'another-sheet',
          `A sheet named ${sheet.sheetId} is here already and says something else.`,
          'One of the two was edited: ask its maker which one holds.',
        )
      return { setting: await settingOf(before.settingId), sheet: before.sheet, verification, from }
    }
    const { exposureS, intervalS, layerHeightUm, simulated, temperatureC, resin, printer, madeBy } = sheet
    const note = [resin?.name, printer, madeBy && `from ${madeBy}`].filter(Boolean).join(', ')
    const content: Setting = {
      exposureS,
      ...(intervalS && { intervalS }),
      layerHeightUm,
      origin: 'received',
      ...(simulated && { simulated }),
      ...(temperatureC !== undefined && { temperatureC }),
      ...(note !== '' && { note }),
    }
    const setting = await store.atOnce(async ({ records, sheets }) => {
      const added = await records.add('setting', content)
      await sheets.add(added.recordId, sheet)
      return added as StoredRecord<Setting>
    })
    return { setting, sheet, verification, from }
  }
}
export default received
