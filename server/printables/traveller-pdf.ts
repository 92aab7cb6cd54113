import { buffer } from 'node:stream/consumers'
import PDFDocument from 'pdfkit'
import type { TravellerBody } from '../api/finish.js'
import { CAUTIONS, FIRST } from '../finish/cautions.js'
import { FINISH_STEPS } from '../finish/steps.js'
import { inMinutes, minutesOf, totalMinutes } from '../finish/traveller.js'
import { fontFile } from './font-file.js'

const REGULAR = fontFile('DejaVuSansCondensed')
const BOLD = fontFile('DejaVuSansCondensed-Bold')
const SIZES = { a4: 'A4', letter: 'LETTER' } as const
const MARGIN = 40
const NARROWEST = 0.55
/** Column with the places for measured values. */
const VALUES_WIDTH = 150

type Doc = PDFKit.PDFDocument

/**
 * The route of one part on one page: what to do with boxes to tick, places for values, times summed.
 *
 * Sized down until all of it fits; a route of all steps fits at full size.
 */
export async function travellerPdf(request: TravellerBody): Promise<Buffer> {
  const { paper = 'a4', part } = request
  for (let scale = 1; ; scale -= 0.05) {
    const doc = new PDFDocument({
      size: SIZES[paper],
      margin: MARGIN,
      lang: 'en',
      info: { Title: `Traveller of ${part}`, Creator: 'Stepglass' },
    })
    const endY = draw(doc, request, scale)
    if (endY <= doc.page.height - MARGIN || scale <= NARROWEST) {
      doc.end()
      return buffer(doc)
    }
  }
}

/** @returns where it ends, pt */
function draw(doc: Doc, { part, resin, steps }: TravellerBody, scale: number): number {
  const width = doc.page.width - 2 * MARGIN
  // What runs past the page must not open another: the height is what is asked for.
  doc.page.margins.bottom = -10_000
  doc.font(BOLD, 17 * scale).text(part, MARGIN, MARGIN, { width: width * 0.6 })
  doc
    .font(REGULAR, 9 * scale)
    .text(`${resin ? `${resin}   ` : ''}Date ____________   Name ____________________`, MARGIN, doc.y + 2, { width })
  let y = doc.y + 6 * scale
  // A caution stands where it is first needed; each again at every step would bury them all.
  const told = new Set<string>()
  for (const [i, chosen] of steps.entries()) y = drawStep(doc, chosen, i + 1, told, { y, width, scale })
  line(doc, y, width, 1)
  doc
    .font(BOLD, 10 * scale)
    .text(`All together: ${inMinutes(totalMinutes(steps))}`, MARGIN, y + 4, { width: width / 2 })
  const unknown = steps.filter((step) => minutesOf(step) === undefined)
  if (unknown.length > 0) {
    doc.font(REGULAR, 8 * scale).text('and the time of the steps without one', MARGIN + width / 2, y + 6, {
      width: width / 2,
      align: 'right',
    })
  }
  doc.font(REGULAR, 7.5 * scale).text(FIRST, MARGIN, y + 20 * scale, { width })
  return doc.y
}

function drawStep(
  doc: Doc,
  chosen: TravellerBody['steps'][number],
  place: number,
  told: Set<string>,
  { y, width, scale }: { readonly y: number; readonly width: number; readonly scale: number },
): number {
  const step = FINISH_STEPS.find(({ name }) => name === chosen.name)!
  const text = width - VALUES_WIDTH - 12
  line(doc, y, width, 0.5)
  const minutes = minutesOf(chosen)
  doc
    .font(BOLD, 10.5 * scale)
    .text(`${place}  ${step.title}${minutes === undefined ? '' : `, ${inMinutes(minutes)}`}`, MARGIN, y + 4 * scale, {
      width: text,
    })
  doc.font(REGULAR, 8.5 * scale)
  const waits = step.waits.map(({ what, minutes: wait }) => `${what}: ${inMinutes(wait)}`)
  for (const check of [...step.checks, ...(chosen.minutes === undefined ? waits : []), ...(chosen.notes ?? [])]) {
    const top = doc.y + 2 * scale
    doc
      .lineWidth(0.7)
      .rect(MARGIN, top + scale, 7 * scale, 7 * scale)
      .stroke('black')
    doc.text(check, MARGIN + 12 * scale, top, { width: text - 12 * scale })
  }
  doc.font(REGULAR, 7.5 * scale).fillColor('#7a3b00')
  for (const { text: caution } of CAUTIONS[chosen.name]) {
    if (told.has(caution)) continue
    told.add(caution)
    doc.text(`⚠ ${caution}`, MARGIN, doc.y + 2 * scale, { width: text })
  }
  doc.fillColor('black')
  const endText = doc.y
  let valueY = y + 6 * scale
  const x = MARGIN + width - VALUES_WIDTH
  doc.font(REGULAR, 8 * scale)
  for (const name of [...step.measure, 'Done, when']) {
    doc.text(name, x, valueY, { width: VALUES_WIDTH })
    const named = doc.widthOfString(name)
    doc
      .lineWidth(0.4)
      .moveTo(x + named + 4, valueY + 9 * scale)
      .lineTo(x + VALUES_WIDTH, valueY + 9 * scale)
      .stroke('black')
    valueY += 15 * scale
  }
  return Math.max(endText, valueY) + 4 * scale
}

const line = (doc: Doc, y: number, width: number, weight: number) =>
  doc
    .lineWidth(weight)
    .moveTo(MARGIN, y)
    .lineTo(MARGIN + width, y)
    .stroke('black')
