import { FACTORS, type LadderLayout } from '../../analysis/index.js'
import { RESIN_CAUTIONS } from './cautions.js'
import { drawCouponFigure } from './coupon-figure.js'
import { fontFile } from './font-file.js'

type Doc = PDFKit.PDFDocument

/** Where the words go, in mm from the page's upper left corner. */
export interface AdvicePlace {
  readonly widthMm: number
  /** Lower end of the heading above the card. */
  readonly headYMm: number
  /** Upper and lower end of what stands below the card. */
  readonly bodyYMm: number
  readonly endYMm: number
}

const REGULAR = fontFile('DejaVuSansCondensed')
const BOLD = fontFile('DejaVuSansCondensed-Bold')
const BODY_MM = 2.75
const SMALL_MM = 2.4
const COLUMN_GAP_MM = 9
const TEXT_WIDTH_MM = 178
const RULER_MM = 100
const NOTE_LINE_MM = 8

const SCALE_ADVICE =
  'Print at 100 % (“actual size”) on matt white paper, best quality, no saving of ink or toner. ' +
  'A ruler laid here must agree.'

const TREAT_FIRST =
  'Wash and dry the coupons alike, then treat each as its rung says and nothing else: only that may differ. Cure all ' +
  'fully unless the rungs differ in post-cure; sand and coat the window only, on both faces. Touch thin waterproof ink to one end of each groove: the groove draws it ' +
  'in. Let it dry, then wipe the face with a barely damp cloth over something flat. Keep the window clear.'

const STEPS = [
  {
    title: 'Ink',
    text:
      'First wash, dry and fully cure the coupons. Touch thin waterproof ink to one end of each groove: the groove draws it ' +
      'in. Let it dry, then wipe the face with a barely damp cloth over something flat: ink stays in the grooves without ' +
      'filling them. Or roll a thin film onto the face with a soft roller, so that ink wraps the rims. Keep the window ' +
      'clear and treat all coupons alike.',
  },
  {
    title: 'Lay out',
    text:
      'Cut the card out along its frame or leave it whole; it must lie flat. Each coupon rests on its legs in the slot of ' +
      'its number: inked face up, the key at the corner with the thick bar.',
    figure: true,
  },
  {
    title: 'Photograph',
    text:
      'Soft daylight from one side, no flash, nothing bright above for the coupons to mirror. Hold the phone level, 40 cm ' +
      'away or more, with the longer lens: the card fills the frame, every black disc shows. Focus on the coupons. Send ' +
      'the file as the camera wrote it.',
  },
]

function heading(doc: Doc, text: string, xMm: number, yMm: number, widthMm: number): number {
  doc
    .lineWidth(0.25)
    .moveTo(xMm, yMm)
    .lineTo(xMm + widthMm, yMm)
    .stroke('black')
  doc.font(BOLD, 3).text(text, xMm, yMm + 1.5, { lineBreak: false })
  return yMm + 6
}

function paragraph(doc: Doc, text: string, xMm: number, yMm: number, widthMm: number, sizeMm = BODY_MM): number {
  doc.font(REGULAR, sizeMm).text(text, xMm, yMm, { width: widthMm, lineGap: sizeMm * 0.12 })
  return doc.y
}

/** 0 to 100 mm between the middles of the first and the last tick. Areas, not strokes: renderers shift thin strokes. */
function ruler(doc: Doc, xMm: number, yMm: number): void {
  const half = 0.06
  for (let mm = 0; mm <= RULER_MM; mm++)
    doc.rect(xMm + mm - half, yMm, 2 * half, mm % 10 === 0 ? 4 : mm % 5 === 0 ? 2.8 : 1.8)
  doc.rect(xMm - half, yMm, RULER_MM + 2 * half, 2 * half).fill('black')
  doc.font(REGULAR, SMALL_MM)
  for (let mm = 0; mm <= RULER_MM; mm += 10)
    doc.text(`${mm}`, xMm + mm - 5, yMm + 4.4, { width: 10, align: 'center', lineBreak: false })
}

/** Of the table of rungs, in mm; the later ones are written in by hand. */
const COLUMNS = {
  exposure: [
    { title: 'Slot', at: 0 },
    { title: 'Exposure', at: 9 },
    { title: 'Printed', at: 26 },
    { title: 'Resin °C', at: 41 },
    { title: 'Note', at: 55 },
  ],
  printing: [
    { title: 'Slot', at: 0 },
    { title: 'Rung', at: 9 },
    { title: 'Printed', at: 32 },
    { title: 'Resin °C', at: 46 },
    { title: 'Note', at: 60 },
  ],
  afterwards: [
    { title: 'Slot', at: 0 },
    { title: 'Rung', at: 9 },
    { title: 'Done', at: 32 },
    { title: 'Note', at: 46 },
  ],
} as const

/** One row a rung; the narrow columns are written in while printing. */
function rungTable(doc: Doc, { card, design }: LadderLayout, xMm: number, yMm: number, widthMm: number): number {
  const columns = COLUMNS[design.factor ? FACTORS[design.factor].when : 'exposure']
  const rowMm = 5.5
  doc.font(REGULAR, SMALL_MM)
  for (const { title, at } of columns) doc.text(title, xMm + at, yMm, { lineBreak: false })
  let y = yMm + 3.6
  for (const { slot, rung } of card.slots) {
    doc
      .lineWidth(0.08)
      .moveTo(xMm, y)
      .lineTo(xMm + widthMm, y)
      .stroke('black')
    doc.font(BOLD, BODY_MM + 0.3).text(`${slot}`, xMm, y + 1.3, { lineBreak: false })
    doc.font(REGULAR, BODY_MM + 0.3).text(rung, xMm + 9, y + 1.3, { lineBreak: false })
    y += rowMm
  }
  doc
    .lineWidth(0.08)
    .moveTo(xMm, y)
    .lineTo(xMm + widthMm, y)
  for (const { at } of columns.slice(2)) doc.moveTo(xMm + at - 1.5, yMm + 3.6).lineTo(xMm + at - 1.5, y)
  doc.stroke('black')
  return y
}

/** Ruled lines for whatever else is worth keeping, as many as the page has room for. */
function notes(doc: Doc, xMm: number, yMm: number, endMm: number): void {
  if (endMm - yMm < 6 + 2 * NOTE_LINE_MM) return
  const start = heading(doc, 'Notes', xMm, yMm, TEXT_WIDTH_MM)
  for (let y = start + NOTE_LINE_MM - 2; y <= endMm; y += NOTE_LINE_MM)
    doc.moveTo(xMm, y).lineTo(xMm + TEXT_WIDTH_MM, y)
  doc.lineWidth(0.08).stroke('black')
}

/** What a person needs beside the card: its scale, the steps, the rungs, the cautions. */
export function drawAdvice(doc: Doc, layout: LadderLayout, place: AdvicePlace): void {
  const { design, coupon } = layout
  const left = (place.widthMm - TEXT_WIDTH_MM) / 2
  const column = (TEXT_WIDTH_MM - COLUMN_GAP_MM) / 2
  const second = left + column + COLUMN_GAP_MM
  const head = place.headYMm - 7
  doc.font(BOLD, 4.2).text('Stepglass', left, head, { lineBreak: false })
  doc
    .font(REGULAR, 3)
    .text(
      [
        `ladder ${design.ladderId}`,
        `layer ${design.layerHeightUm} µm`,
        `mask pixel ${design.pixelPitchUm} µm`,
        ...(design.factor ? [`${design.exposuresS[0]} s a layer`, `rungs: ${FACTORS[design.factor].name}`] : []),
      ].join('  ·  '),
      left,
      head + 0.9,
      { width: TEXT_WIDTH_MM, align: 'right', lineBreak: false },
    )

  const top = place.bodyYMm + 4.5
  ruler(doc, left, top)
  paragraph(doc, SCALE_ADVICE, second + 16, top - 0.4, column - 16)

  let y = top + 12.5
  const inkText = design.factor && FACTORS[design.factor].when === 'afterwards' ? TREAT_FIRST : STEPS[0]!.text
  STEPS.forEach(({ title, text, figure }, i) => {
    y = heading(doc, `${i + 1}  ${title}`, left, y, column)
    y = paragraph(doc, i === 0 ? inkText : text, left, y, column) + 2.5
    if (figure) y += drawCouponFigure(doc, coupon, left, y)
  })
  const leftEnd = y

  y = heading(doc, 'Rungs', second, top + 12.5, column)
  y = rungTable(doc, layout, second, y, column) + 4
  y = heading(doc, 'Resin with care', second, y, column)
  y = paragraph(doc, RESIN_CAUTIONS, second, y, column, SMALL_MM)
  notes(doc, left, Math.max(leftEnd, y + 4), place.endYMm)
}
