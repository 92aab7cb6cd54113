import { buffer } from 'node:stream/consumers'
import PDFDocument from 'pdfkit'
import type { TravellerBody } from '../api/finish.js'
import type { ResinSheet } from '../finish/sheet-lines.js'
import { chosenSteps, inMinutes, totalMinutes, type ChosenStep } from '../finish/traveller.js'
import { finishWords, type FinishWords } from '../finish/words/finish-words.js'
import { fontFile } from './font-file.js'

const REGULAR = fontFile('DejaVuSansCondensed')
const BOLD = fontFile('DejaVuSansCondensed-Bold')
const SIZES = { a4: 'A4', letter: 'LETTER' } as const
const MARGIN = 40
const NARROWEST = 0.55
/** Column with the places for measured values. */
const VALUES_WIDTH = 150
const CAUTION_INK = '#7a3b00'

type Doc = PDFKit.PDFDocument
interface Page {
  readonly doc: Doc
  readonly words: FinishWords
  readonly width: number
  readonly scale: number
}

/**
 * The route of one part on one page: what to do with boxes to tick, places for values, times summed.
 *
 * Sized down until all of it fits; a route of all steps fits at full size.
 *
 * @param sheet of its resin; its lines and waits take the place of what is usual
 */
export async function travellerPdf(request: TravellerBody, sheet?: ResinSheet): Promise<Buffer> {
  const { paper = 'a4', part, language = 'en' } = request
  const words = finishWords[language]
  const steps = chosenSteps(request.steps, words, sheet)
  for (let scale = 1; ; scale -= 0.05) {
    const doc = new PDFDocument({
      size: SIZES[paper],
      margin: MARGIN,
      lang: language,
      info: { Title: part, Creator: 'Stepglass' },
    })
    const endY = draw({ doc, words, width: doc.page.width - 2 * MARGIN, scale }, request, steps)
    if (endY <= doc.page.height - MARGIN || scale <= NARROWEST) {
      doc.end()
      return buffer(doc)
    }
  }
}

/** @returns where it ends, pt */
function draw(page: Page, { part, resin }: TravellerBody, steps: readonly ChosenStep[]): number {
  const { doc, width, scale } = page
  const { first, traveller: words } = page.words
  // What runs past the page must not open another: the height is what is asked for.
  doc.page.margins.bottom = -10_000
  doc.font(BOLD, 17 * scale).text(part, MARGIN, MARGIN, { width: width * 0.6 })
  doc
    .font(REGULAR, 9 * scale)
    .text(
      `${resin ? `${resin}   ` : ''}${words.date} ____________   ${words.name} ____________________`,
      MARGIN,
      doc.y + 2,
      { width },
    )
  let y = doc.y + 6 * scale
  const told = new Map<string, number>()
  for (const [i, step] of steps.entries()) y = drawStep(page, step, i + 1, told, y)
  line(doc, y, width, 1)
  doc
    .font(BOLD, 10 * scale)
    .text(words.total(inMinutes(totalMinutes(steps), page.words.number)), MARGIN, y + 4, { width: width / 2 })
  if (steps.some(({ minutesInAll }) => minutesInAll === undefined)) {
    doc.font(REGULAR, 8 * scale).text(words.untimed, MARGIN + width / 2, y + 6, { width: width / 2, align: 'right' })
  }
  doc.font(REGULAR, 7.5 * scale).text(first, MARGIN, y + 20 * scale, { width })
  return doc.y
}

function drawStep(page: Page, step: ChosenStep, place: number, told: Map<string, number>, y: number): number {
  const { doc, words, width, scale } = page
  const text = width - VALUES_WIDTH - 12
  const { title, minutesInAll } = step
  line(doc, y, width, 0.5)
  doc
    .font(BOLD, 10.5 * scale)
    .text(
      `${place}  ${title}${minutesInAll === undefined ? '' : `, ${inMinutes(minutesInAll, words.number)}`}`,
      MARGIN,
      y + 4 * scale,
      {
        width: text,
      },
    )
  doc.font(REGULAR, 8.5 * scale)
  for (const check of linesOf(step, words)) {
    const top = doc.y + 2 * scale
    doc
      .lineWidth(0.7)
      .rect(MARGIN, top + scale, 7 * scale, 7 * scale)
      .stroke('black')
    doc.text(check, MARGIN + 12 * scale, top, { width: text - 12 * scale })
  }
  drawCautions(page, step, place, told)
  return Math.max(doc.y, drawValues(page, [...step.measure, words.traveller.done], y + 6 * scale)) + 4 * scale
}

/** What is ticked: checks, waits unless another time was given, notes. */
function linesOf({ checks, waits, timed, notes }: ChosenStep, { traveller: words, number }: FinishWords): string[] {
  const marked = (text: string, fromSheet: boolean) => (fromSheet ? `${text} ${words.sheet}` : text)
  return [
    ...checks.map(({ text, fromSheet }) => marked(text, fromSheet)),
    ...(timed
      ? []
      : waits.map(({ what, minutes, fromSheet }) => marked(`${what}: ${inMinutes(minutes, number)}`, fromSheet))),
    ...notes,
  ]
}

/** Each caution in full where it first applies; after that by its name and the step that has it. */
function drawCautions(
  { doc, words, width, scale }: Page,
  { cautions }: ChosenStep,
  place: number,
  told: Map<string, number>,
): void {
  const text = width - VALUES_WIDTH - 12
  doc.font(REGULAR, 7.5 * scale).fillColor(CAUTION_INK)
  const write = (caution: string) => doc.text(`⚠ ${caution}`, MARGIN, doc.y + 2 * scale, { width: text })
  const again = cautions.flatMap(({ id, title }) => {
    const before = told.get(id)
    return before === undefined ? [] : [`${title} (${words.traveller.asAt(before)})`]
  })
  for (const { id, text: caution } of cautions) {
    if (told.has(id)) continue
    told.set(id, place)
    write(caution)
  }
  if (again.length > 0) write(again.join(', '))
  doc.fillColor('black')
}

/** @returns where it ends, pt */
function drawValues({ doc, width, scale }: Page, names: readonly string[], y: number): number {
  const x = MARGIN + width - VALUES_WIDTH
  const below = doc.y
  doc.font(REGULAR, 8 * scale)
  for (const [i, name] of names.entries()) {
    const top = y + 15 * scale * i
    doc.text(name, x, top, { width: VALUES_WIDTH })
    doc
      .lineWidth(0.4)
      .moveTo(x + doc.widthOfString(name) + 4, top + 9 * scale)
      .lineTo(x + VALUES_WIDTH, top + 9 * scale)
      .stroke('black')
  }
  doc.y = below
  return y + 15 * scale * names.length
}

const line = (doc: Doc, y: number, width: number, weight: number) =>
  doc
    .lineWidth(weight)
    .moveTo(MARGIN, y)
    .lineTo(MARGIN + width, y)
    .stroke('black')
