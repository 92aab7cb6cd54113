import { buffer } from 'node:stream/consumers'
import PDFDocument from 'pdfkit'
import type { LabelSize, SettingSheet } from '../api/sheets.js'
import { fontFile } from '../printables/font-file.js'
import { short } from '../report/numbers.js'
import { labelText } from './label-text.js'
import { drawCodeAt } from './sheet-pdf.js'
import { sheetWords } from './sheet-words.js'

const POINTS_PER_MM = 72 / 25.4
const MARGIN_MM = 1.5
/** Of the exposure, share of the label's height. */
const LARGE = 0.26

/**
 * A label for the bottle, the page being the label: the exposure to be read from arm's length, and a code that holds the
 * setting itself.
 *
 * @param part of a sheet, see `labelPart`
 */
export async function labelPdf(part: SettingSheet, size: LabelSize): Promise<Buffer> {
  const [width, height] = size.split('x').map((mm) => Number(mm) * POINTS_PER_MM) as [number, number]
  const margin = MARGIN_MM * POINTS_PER_MM
  const { exposure } = sheetWords(part)
  const doc = new PDFDocument({ size: [width, height], margin: 0, lang: 'en', info: { Title: `Label, ${exposure}` } })
  const side = height - 2 * margin
  drawCodeAt(doc, labelText(part), margin, margin, side)

  const x = margin + side + margin
  const room = width - x - margin
  const { resin, bottle, printer, intervalS, layerHeightUm, simulated } = part
  const lines = [
    ...(simulated ? ['SIMULATED, an example'] : []),
    ...(intervalS ? [`${short(intervalS[0])} to ${short(intervalS[1])} s`] : []),
    `${layerHeightUm} µm layers`,
    ...(resin ? [resin.name] : []),
    ...(bottle ? [[bottle.name, bottle.batch].filter(Boolean).join(', ')] : []),
    ...(printer === undefined ? [] : [printer]),
    `${part.madeOn}, ${part.sheetId}`,
  ]
  doc.font(fontFile('DejaVuSans-Bold'))
  const large = fitting(doc, exposure, room, height * LARGE)
  doc.fontSize(large).text(exposure, x, margin, { lineBreak: false })
  doc.font(fontFile('DejaVuSans'))
  const top = margin + 1.2 * large
  const lineHeight = (height - margin - top) / lines.length
  for (const [i, line] of lines.entries())
    doc.fontSize(fitting(doc, line, room, 0.8 * lineHeight)).text(line, x, top + i * lineHeight, { lineBreak: false })
  doc.end()
  return buffer(doc)
}

/** Largest font, up to a limit, in which a line fits. */
function fitting(doc: PDFKit.PDFDocument, text: string, room: number, most: number): number {
  return Math.min(most, (most * room) / doc.fontSize(most).widthOfString(text))
}
