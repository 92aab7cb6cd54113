import { beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/index.js'
import { cardPdf } from '../../../server/printables/index.js'
import { readCodes } from '../../support/code-reader.js'
import { missingTool, runTool } from '../../support/debian.js'
import { darkRuns, inkCentre, inkedDots, misprints, rim, type DotArea, type Dots } from '../../support/ink.js'
import { renderPage } from '../../support/rendered-page.js'

const DPI = 600
const DOT_MM = 25.4 / DPI

// As many rungs as a card takes: the fullest page.
const layout = ladderLayout({
  ladderId: 'K7Q2XN',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1.6, 2, 2.5, 3.1, 3.9, 4.9, 6.1, 7.6],
})
const { card } = layout
const noPoppler = missingTool('pdftoppm', 'poppler-utils')
const noCodeReader = missingTool('zbarimg', 'zbar-tools')

const ask = (command: string, args: readonly string[], pdf: Buffer) => runTool(command, args, { input: pdf }).toString()

describe.each([
  { paper: 'a4', size: /\(A4\)$/m },
  { paper: 'letter', size: /^Page size: +612 x 792 pts \(letter\)$/m },
] as const)('the card on $paper paper', ({ paper, size }) => {
  let pdf: Buffer
  let page: Dots
  /** The card's origin in dots; it lies between dots, as the card's edges do. */
  let origin: { x: number; y: number }
  const at = (xMm: number, yMm: number) => ({ x: origin.x + xMm / DOT_MM, y: origin.y - yMm / DOT_MM })
  const dotArea = (x0: number, y0: number, x1: number, y1: number): DotArea => {
    const [upper, lower] = [at(x0, y1), at(x1, y0)]
    return { x0: Math.round(upper.x), y0: Math.round(upper.y), x1: Math.round(lower.x), y1: Math.round(lower.y) }
  }

  beforeAll(async () => {
    if (noPoppler) return
    pdf = await cardPdf(layout, paper)
    page = renderPage(pdf, DPI)
    // The uppermost disc on the page's middle line tells where the card lies.
    const x = page.width / 2
    const disc = darkRuns((row) => page.darkness(x, row), 0, page.height).find(([from, to]) => to - from > 60)
    if (!disc) throw new Error('no disc on the middle line')
    const discYMm = Math.max(...card.fiducials.map(({ yMm }) => yMm))
    origin = { x, y: Math.round((disc[0] + disc[1]) / 2 + discYMm / DOT_MM) }
  })
  beforeEach(({ skip }) => skip(noPoppler !== undefined, noPoppler))

  it('is one page of that size with every font embedded', () => {
    const info = ask('pdfinfo', ['-'], pdf)
    expect(info).toMatch(/^Pages: +1$/m)
    expect(info).toMatch(size)
    const [, , ...fonts] = ask('pdffonts', ['-'], pdf).trim().split('\n')
    expect(fonts.length).toBeGreaterThan(0)
    // The columns end with: embedded, subset, unicode, object.
    for (const font of fonts) expect(font).toMatch(/ yes yes yes +\d+ +0$/)
  })

  it('asks print dialogs for actual size', () => {
    // ISO 32000-1:2008, table 150.
    expect(pdf.toString('latin1')).toMatch(/\/PrintScaling \/None/)
  })

  it('has its discs where the layout has them', () => {
    const [first, ...others] = card.fiducials.map(({ xMm, yMm, diameterMm }) => {
      const reach = diameterMm / 2 + 0.8
      const centre = inkCentre(page, dotArea(xMm - reach, yMm - reach, xMm + reach, yMm + reach))
      return { xMm, yMm, centre }
    })
    expect(others).toHaveLength(17)
    for (const { xMm, yMm, centre } of others) {
      const measured = Math.hypot(centre.x - first!.centre.x, centre.y - first!.centre.y) * DOT_MM
      const nominal = Math.hypot(xMm - first!.xMm, yMm - first!.yMm)
      // Poppler's grey takes 16 samples a dot, 11 um apart, and some hundred dots lie on a rim: 0.03 um were measured.
      expect(Math.abs(measured - nominal)).toBeLessThan(0.0005)
    }
  })

  it('fills exactly the dots of each black area, and none beside', () => {
    const areas = card.black.map(({ x0, y0, x1, y1 }) => dotArea(x0, y0, x1, y1))
    expect(misprints(page, areas)).toEqual({ light: 0, spilled: 0 })
  })

  it('keeps the pitches of its bars', () => {
    for (const { windowTarget, bareTarget } of card.slots)
      for (const { fine, medium, across } of [windowTarget, bareTarget]) {
        for (const { pitchMm, periods, areaMm } of [fine, medium]) {
          const { y } = at(0, (areaMm.y0 + areaMm.y1) / 2)
          const [from, to] = [at(areaMm.x0, 0).x, at(areaMm.x1, 0).x]
          const bars = darkRuns((x) => page.darkness(x, Math.round(y)), Math.round(from) - 3, Math.round(to) + 3)
          expect(bars).toHaveLength(periods)
          // Bars lie on whole dots, so nothing is rounded.
          for (const [i, [left, right]] of bars.entries()) {
            expect((left - bars[0]![0]) * DOT_MM).toBeCloseTo(i * pitchMm, 9)
            expect((right - left) * DOT_MM).toBeCloseTo(pitchMm / 2, 9)
          }
        }
        const x = Math.round(at(across.areaMm.x0 + 0.5, 0).x)
        const [from, to] = [at(0, across.areaMm.y1).y, at(0, across.areaMm.y0).y]
        const bars = darkRuns((y) => page.darkness(x, y), Math.round(from) - 3, Math.round(to) + 3)
        expect(bars).toHaveLength(across.bars)
        expect((bars[1]![0] - bars[0]![0]) * DOT_MM).toBeCloseTo(across.pitchMm, 9)
      }
  })

  it('has a ruler of 100 mm with a tick each millimetre', () => {
    const below = Math.round(at(0, -card.sizeMm.y / 2).y)
    const right = Math.round(page.width / 2 + 15 / DOT_MM) // short of the words beside it
    const rows = []
    for (let row = below; row < below + 10 / DOT_MM; row++)
      if (darkRuns((x) => page.darkness(x, row), 0, right).length === 101) rows.push(row)
    const row = rows[Math.floor(rows.length / 2)]!
    const ticks = darkRuns((x) => page.darkness(x, row), 0, right)
    const middles = ticks.map(
      ([from, to]) => inkCentre(page, { x0: from - 2, x1: to + 2, y0: row, y1: row + 1 }).x * DOT_MM,
    )
    // A tick's sides are grey in quarters of a dot, 11 um.
    for (const [i, middle] of middles.entries()) expect(Math.abs(middle - middles[0]! - i)).toBeLessThan(0.011)
  })

  it('keeps 2 mm of white around the card, and 10 mm along the edges of the paper', () => {
    const [half, tall] = [card.sizeMm.x / 2, card.sizeMm.y / 2]
    const around = rim(dotArea(-half - 2, -tall - 2, half + 2, tall + 2), Math.round(2 / DOT_MM))
    const margin = rim({ x0: 0, y0: 0, x1: page.width, y1: page.height }, Math.round(10 / DOT_MM))
    expect([...around, ...margin].map((area) => inkedDots(page, area))).toEqual([0, 0, 0, 0, 0, 0, 0, 0])
  })

  it('carries a code that another reader reads', async ({ skip }) => {
    skip(noCodeReader !== undefined, noCodeReader)
    const picture = runTool('pdftoppm', ['-r', '150', '-png', '-'], { input: pdf })
    expect(readCodes(picture)).toEqual([card.code.payload])
  })

  it('says in words what the code says, how to print and ink it, and what to be careful of', () => {
    const text = ask('pdftotext', ['-raw', '-', '-'], pdf)
    for (const { slot, exposureS } of card.slots) expect(text).toMatch(new RegExp(`^${slot}\\s+${exposureS} ?s$`, 'm'))
    for (const words of [
      'K7Q2XN',
      '50 µm',
      '34 µm',
      '100 %',
      'matt white',
      'waterproof ink',
      'gloves',
      'goggles',
      'data sheets',
    ])
      expect(text.replace(/\s+/g, ' ')).toContain(words)
  })
})
