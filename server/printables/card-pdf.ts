import { buffer } from 'node:stream/consumers'
import PDFDocument from 'pdfkit'
import type { LadderLayout } from '../../analysis/index.js'
import { drawAdvice } from './card-advice.js'
import { codeModules } from './code-modules.js'
import { fontFile } from './font-file.js'

export type Paper = 'a4' | 'letter'

/**
 * Pages in the card's 600 dpi dots. A4 is rounded to whole dots (0.03 mm off), so that the card lies on the printer's
 * dots whichever corner of the page the printer counts from.
 */
const PAGE_DOTS: Readonly<Record<Paper, { width: number; height: number }>> = {
  a4: { width: 4960, height: 7016 },
  letter: { width: 5100, height: 6600 },
}
const POINTS_PER_DOT = 72 / 600
const POINTS_PER_MM = 72 / 25.4
/** Upper edge of the card below the upper edge of the page. */
const CARD_TOP_MM = 19.5
/** Kept free at the foot of the page, where printers reach least. */
const MARGIN_MM = 14
/** The frame keeps this far outside the card: the outer discs must stand alone. */
const FRAME_MM = 2.5
/**
 * Black ends 1/100 dot (0.4 um) inside its dots. A PDF shape paints every dot it reaches into (PDF Reference 1.7,
 * section 6.5.3), so an edge exactly between two dots could gain one by rounding.
 */
const INSET_DOTS = 0.01

/** Bars, patches, marks and code, in dots from the card's centre. */
function drawBlack(doc: PDFKit.PDFDocument, { black, code, dotMm }: LadderLayout['card']): void {
  const dots = (mm: number) => Math.round(mm / dotMm)
  for (const { x0, y0, x1, y1 } of [...black, ...codeModules(code)])
    doc.rect(
      dots(x0) + INSET_DOTS,
      INSET_DOTS - dots(y1),
      dots(x1) - dots(x0) - 2 * INSET_DOTS,
      dots(y1) - dots(y0) - 2 * INSET_DOTS,
    )
  doc.fill('black')
}

/** Discs, words and frame, in mm from the card's centre. */
function drawRest(doc: PDFKit.PDFDocument, { fiducials, texts, sizeMm }: LadderLayout['card']): void {
  for (const { xMm, yMm, diameterMm } of fiducials) doc.circle(xMm, -yMm, diameterMm / 2)
  doc.fill('black')
  for (const { text, xMm, yMm, sizeMm: fontSize, bold } of texts)
    doc
      .font(fontFile(bold ? 'DejaVuSans-Bold' : 'DejaVuSans'), fontSize)
      .text(text, xMm, -yMm, { baseline: 'alphabetic', lineBreak: false })
  const [width, height] = [sizeMm.x + 2 * FRAME_MM, sizeMm.y + 2 * FRAME_MM]
  doc
    .lineWidth(0.1)
    .rect(-width / 2, -height / 2, width, height)
    .stroke('black')
}

/**
 * The card and what to do with it, on one page of vector graphics with embedded fonts.
 *
 * @param paper A4 or US Letter, portrait
 */
export async function cardPdf(layout: LadderLayout, paper: Paper): Promise<Buffer> {
  const { card, design } = layout
  const page = PAGE_DOTS[paper]
  const centre = { x: page.width / 2, y: Math.round((CARD_TOP_MM + card.sizeMm.y / 2) / card.dotMm) }
  const doc = new PDFDocument({
    size: [page.width * POINTS_PER_DOT, page.height * POINTS_PER_DOT],
    margin: 0,
    pdfVersion: '1.7',
    lang: 'en',
    info: { Title: `Stepglass card, ladder ${design.ladderId}`, Creator: 'Stepglass' },
  })
  // Print dialogs then propose actual size (ISO 32000-1:2008, table 150).
  doc._root.data.ViewerPreferences = doc.ref({ DisplayDocTitle: true, PrintScaling: 'None' })
  doc.save().scale(POINTS_PER_DOT).translate(centre.x, centre.y)
  drawBlack(doc, card)
  doc
    .restore()
    .save()
    .translate(centre.x * POINTS_PER_DOT, centre.y * POINTS_PER_DOT)
    .scale(POINTS_PER_MM)
  drawRest(doc, card)
  doc.restore().save().scale(POINTS_PER_MM)
  drawAdvice(doc, layout, {
    widthMm: page.width * card.dotMm,
    headYMm: CARD_TOP_MM - FRAME_MM,
    bodyYMm: centre.y * card.dotMm + card.sizeMm.y / 2 + FRAME_MM,
    endYMm: page.height * card.dotMm - MARGIN_MM,
  })
  doc.restore().end()
  return buffer(doc)
}
