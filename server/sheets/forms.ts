import type { FastifyReply } from 'fastify'
import type { SettingSheet, SheetForm } from '../api/sheets.js'
import type { Paper } from '../printables/card-pdf.js'
import { sheetText } from './sheet-words.js'

const TYPES: Readonly<Record<SheetForm, string>> = {
  json: 'application/json; charset=utf-8',
  html: 'text/html; charset=utf-8',
  pdf: 'application/pdf',
  png: 'image/png',
  txt: 'text/plain; charset=utf-8',
}

/** A sheet in one of its forms. */
export async function sheetAs(sheet: SettingSheet, form: SheetForm, paper: Paper): Promise<string | Buffer> {
  switch (form) {
    case 'json':
      return JSON.stringify(sheet, null, 2)
    case 'txt':
      return sheetText(sheet)
    case 'html':
      return (await import('./sheet-html.js')).sheetHtml(sheet)
    case 'pdf':
      return (await import('./sheet-pdf.js')).sheetPdf(sheet, paper)
    case 'png':
      return (await import('./sheet-picture.js')).sheetPicture(sheet)
  }
}

/** Sends it as a file of that kind. @param shown in the browser rather than saved */
export async function sendSheet(
  reply: FastifyReply,
  sheet: SettingSheet,
  { form, paper = 'a4', shown = false }: { form: SheetForm; paper?: Paper | undefined; shown?: boolean },
): Promise<FastifyReply> {
  const name = `stepglass-setting-${sheet.sheetId}.${form}`
  return reply
    .type(TYPES[form])
    .header('content-disposition', `${shown ? 'inline' : 'attachment'}; filename="${name}"`)
    .send(await sheetAs(sheet, form, paper))
}
