import { buffer } from 'node:stream/consumers'
import PDFDocument from 'pdfkit'
import svgToPdf from 'svg-to-pdfkit'
import type { SettingSheet } from '../api/sheets.js'
import type { Paper } from '../printables/card-pdf.js'
import { fontFile } from '../printables/font-file.js'
import { ATTACHED } from './carriers.js'
import { drawCode } from './code-drawing.js'
import { growthFigure } from './growth-figure.js'
import { labelPart, labelText } from './label-text.js'
import { sheetWords, type SheetWords } from './sheet-words.js'

/** Points. */
const MARGIN = 40
const GAP = 14
const LABEL_WIDTH = 104
const CODE_SIDE = 100
const PICTURE_HEIGHT = 150
const ROW_GAP = 2.5
/** The largest at which all fits on the page. */
const FONT_SIZES = [8.5, 8, 7.5, 7, 6.5, 6]
const INVALID = 'It no longer holds with'

/** A sheet on one page of paper, black on white, its data attached. */
export async function sheetPdf(sheet: SettingSheet, paper: Paper): Promise<Buffer> {
  const words = sheetWords(sheet)
  const doc = new PDFDocument({
    size: paper === 'a4' ? 'A4' : 'LETTER',
    margin: MARGIN,
    lang: 'en',
    info: { Title: `${words.exposure}, ${words.title}`, Creator: 'Stepglass' },
  })
  doc.file(Buffer.from(JSON.stringify(sheet)), { name: ATTACHED, type: 'application/json' })
  const { width, height } = doc.page
  const inner = width - 2 * MARGIN
  const [regular, bold] = [fontFile('DejaVuSans'), fontFile('DejaVuSans-Bold')]
  const column = inner - CODE_SIDE - GAP

  if (words.warning) doc.font(bold, 11).text(words.warning, MARGIN, MARGIN, { width: column }).moveDown(0.4)
  doc.font(bold, 11).text(words.title, { width: column })
  doc.font(bold, 40).text(words.exposure, { width: column })
  doc.font(regular, 11).text(`layer exposure, ${words.range}`, { width: column })
  drawCodeAt(doc, labelText(labelPart(sheet)), width - MARGIN - CODE_SIDE, MARGIN)
  doc.y = Math.max(doc.y, MARGIN + CODE_SIDE) + GAP

  const hasPictures = growthFigure(sheet) !== undefined || sheet.photoJpeg !== undefined
  const room = height - MARGIN - doc.y - (hasPictures ? PICTURE_HEIGHT + 2 * GAP : GAP)
  const size = FONT_SIZES.find((one) => heightOfText(doc, words, one, inner) < room) ?? FONT_SIZES.at(-1)!
  for (const [what, value] of words.facts) {
    const y = doc.y
    doc.font(bold, size).text(what, MARGIN, y, { width: LABEL_WIDTH })
    const afterName = doc.y
    doc.font(regular).text(value, MARGIN + LABEL_WIDTH + GAP, y, { width: inner - LABEL_WIDTH - GAP })
    doc.y = Math.max(doc.y, afterName) + ROW_GAP
  }
  drawPictures(doc, sheet, doc.y + GAP, inner)

  doc.font(bold, size).text(INVALID, MARGIN)
  doc.font(regular)
  for (const line of words.invalidWhen) doc.text(`– ${line}`, { width: inner })
  // The foot of the page: whatever stands above, cautions are seen.
  doc.fontSize(cautionSize(size))
  const foot = height - MARGIN - doc.heightOfString(words.cautions, { width: inner })
  doc.text(words.cautions, MARGIN, Math.max(doc.y + GAP / 2, foot - 1), { width: inner })
  doc.end()
  return buffer(doc)
}

/** Height of all that is not picture, in points. */
function heightOfText(
  doc: PDFKit.PDFDocument,
  { facts, invalidWhen, cautions }: SheetWords,
  size: number,
  inner: number,
) {
  const heightOf = (text: string, width: number) => doc.heightOfString(text, { width })
  doc.font(fontFile('DejaVuSans'), size)
  const rows = facts.map(
    ([what, value]) =>
      ROW_GAP + Math.max(1.15 * heightOf(what, LABEL_WIDTH), heightOf(value, inner - LABEL_WIDTH - GAP)),
  )
  const lines = [INVALID, ...invalidWhen.map((line) => `– ${line}`)].map((line) => heightOf(line, inner))
  doc.fontSize(cautionSize(size))
  return [...rows, ...lines, heightOf(cautions, inner), GAP].reduce((sum, part) => sum + part, 0)
}

const cautionSize = (size: number) => Math.min(7, size)

/** Draws a code of a given side, in points. */
export function drawCodeAt(doc: PDFKit.PDFDocument, text: string, x: number, y: number, side = CODE_SIDE): void {
  const { modules, path } = drawCode(text)
  doc
    .save()
    .translate(x, y)
    .scale(side / modules)
    .path(path)
    .fill('black')
    .restore()
}

function drawPictures(doc: PDFKit.PDFDocument, { photoJpeg, ...sheet }: SettingSheet, y: number, inner: number): void {
  const figure = growthFigure(sheet)
  const half = (inner - GAP) / 2
  if (figure)
    svgToPdf(doc, figure, MARGIN, y, { width: half, height: PICTURE_HEIGHT, preserveAspectRatio: 'xMinYMin meet' })
  const photo = photoJpeg === undefined ? undefined : openPicture(doc, photoJpeg)
  if (photo) doc.image(photo, MARGIN + (figure ? half + GAP : 0), y, { fit: [half, PICTURE_HEIGHT] })
  doc.y = figure || photo ? y + PICTURE_HEIGHT + GAP : y
  doc.x = MARGIN
}

/** A sheet from elsewhere may hold a picture that is damaged: then it is left out. */
function openPicture(doc: PDFKit.PDFDocument, jpeg: string) {
  try {
    return doc.openImage(Buffer.from(jpeg, 'base64'))
  } catch {
    return undefined
  }
}
