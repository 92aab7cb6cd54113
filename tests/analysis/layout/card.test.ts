import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import * as fc from 'fast-check'
import * as fontkit from 'fontkit'
import { expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/layout/ladder-layout.js'
import type { CardLayout, CardText, RectMm } from '../../../analysis/layout/schema.js'
import { designs } from '../../support/designs.js'

const { resolve } = createRequire(import.meta.url)
const font = (name: string) => {
  const opened = fontkit.create(readFileSync(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)))
  if (!('layout' in opened)) throw new Error(`${name} is a collection`)
  return opened
}
const [regular, bold] = [font('DejaVuSans'), font('DejaVuSans-Bold')]

/** Room a line of text takes, from the font that draws it. */
function textArea({ text, xMm, yMm, sizeMm, bold: isBold }: CardText): RectMm {
  const face = isBold ? bold : regular
  const { bbox, advanceWidth } = face.layout(text)
  const scale = sizeMm / face.unitsPerEm
  return { x0: xMm, x1: xMm + advanceWidth * scale, y0: yMm + bbox.minY * scale, y1: yMm + bbox.maxY * scale }
}

/** Least distance between two upright rectangles along an axis; below zero where they overlap. */
const apart = (a: RectMm, b: RectMm) => Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1)
const discArea = ({ xMm, yMm, diameterMm: d }: CardLayout['fiducials'][number]): RectMm => ({
  x0: xMm - d / 2,
  x1: xMm + d / 2,
  y0: yMm - d / 2,
  y1: yMm + d / 2,
})
/** The code with the four modules of quiet zone that ISO/IEC 18004:2015, 6.3.8, asks for. */
function codeArea({ code }: CardLayout, quietModules: number): RectMm {
  const quiet = quietModules * code.moduleMm
  const size = code.rows.length * code.moduleMm
  return { x0: code.x0Mm - quiet, x1: code.x0Mm + size + quiet, y0: code.y1Mm - size - quiet, y1: code.y1Mm + quiet }
}

/** A card depends on its design only through the number of rungs and the length of what is written: few runs suffice. */
const RUNS = { numRuns: 30 }
const least = (values: readonly number[]) => Math.min(...values)

it('lays every bar, patch and module, and its own centre, on the printer dots', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { slots, tone, black, code, sizeMm, dotMm } = ladderLayout(design).card
      expect(dotMm).toBe(25.4 / 600)
      const measured = [
        ...slots.flatMap(({ windowTarget, bareTarget }) =>
          [windowTarget, bareTarget].map(({ fine, blackMm, blackGroundMm }) => ({
            ...(blackGroundMm ?? blackMm),
            x0: fine.areaMm.x0,
            y1: fine.areaMm.y1,
          })),
        ),
        ...tone.map(({ areaMm }) => areaMm),
      ]
      const edges = black
        .filter((one) => measured.some((area) => apart(one, area) < -1e-9))
        .flatMap(({ x0, x1, y0, y1 }) => [x0, x1, y0, y1])
      // The card's edges lie on dots with its centre only if its size is an even number of them.
      const all = [...edges, code.x0Mm, code.y1Mm, code.moduleMm, sizeMm.x / 2, sizeMm.y / 2].map((mm) => mm / dotMm)
      // Of a double's sixteen digits some are lost in multiplying by the dot.
      expect(Math.max(...all.map((dots) => Math.abs(dots - Math.round(dots))))).toBeLessThan(1e-9)
    }),
    RUNS,
  )
})

it('leaves every disc 1 mm of white, inside the card', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { card } = ladderLayout(design)
      const discs = card.fiducials.map(discArea)
      const others = [...card.black, codeArea(card, 0), ...card.texts.map(textArea)]
      expect(least(discs.flatMap((disc) => others.map((other) => apart(disc, other))))).toBeGreaterThan(1)
      expect(least(discs.flatMap((a, i) => discs.slice(i + 1).map((b) => apart(a, b))))).toBeGreaterThan(1)
      const { x, y } = card.sizeMm
      expect(least(discs.flatMap((d) => [d.x0 + x / 2, x / 2 - d.x1, d.y0 + y / 2, y / 2 - d.y1]))).toBeGreaterThan(1)
    }),
    RUNS,
  )
})

it('keeps the quiet zone of its code', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { card } = ladderLayout(design)
      const others = [...card.black, ...card.fiducials.map(discArea), ...card.texts.map(textArea)]
      expect(least(others.map((other) => apart(codeArea(card, 4), other)))).toBeGreaterThanOrEqual(0)
    }),
    RUNS,
  )
})

it('prints no word over anything, and nothing but its bars under a coupon', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { card, coupon } = ladderLayout(design)
      const words = card.texts.map(textArea)
      const rest = [...card.black, codeArea(card, 0)]
      expect(least(words.flatMap((a, i) => [...rest, ...words.slice(i + 1)].map((b) => apart(a, b))))).toBeGreaterThan(
        0,
      )

      const lying = card.slots.map(({ originMm: [x, y] }): RectMm => {
        const width = coupon.sizeMm.x + coupon.labelPlane.heightMm
        return { x0: x, x1: x + width, y0: y, y1: y + coupon.sizeMm.y }
      })
      expect(
        least(lying.flatMap((a, i) => [...words, ...lying.slice(i + 1)].map((b) => apart(a, b)), 1)),
      ).toBeGreaterThan(0)
      for (const [i, { originMm, windowTarget }] of card.slots.entries()) {
        const under = card.black.filter((one) => apart(one, lying[i]!) < 0)
        expect(under).toHaveLength(
          windowTarget.fine.periods + windowTarget.medium.periods + windowTarget.across.bars + 1,
        )
        // The paper moves under the face by 1.7 mm at 14 degrees: 2 mm free around what is read, less the half dot of rounding.
        const { window } = coupon
        const [x0, x1] = [originMm[0] + window.x0Mm, originMm[0] + window.x1Mm]
        const [y0, y1] = [originMm[1] + window.y0Mm, originMm[1] + window.y1Mm]
        const { fine, medium, across, whiteMm, blackMm } = windowTarget
        const read = [fine.areaMm, medium.areaMm, across.areaMm, whiteMm, blackMm]
        expect(least(read.flatMap((bar) => [bar.x0 - x0, x1 - bar.x1, bar.y0 - y0, y1 - bar.y1]))).toBeGreaterThan(
          2 - card.dotMm,
        )
      }
    }),
    RUNS,
  )
})

it('surrounds the black patch with black up to the edge of the window, under the coupon; on cards of the first edition with white', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { card, coupon } = ladderLayout(design)
      for (const { originMm, windowTarget } of card.slots) {
        const { blackMm, blackGroundMm: ground } = windowTarget
        const { window } = coupon
        const lies = { x0: originMm[0], y0: originMm[1] }
        expect(ground).toMatchObject({ x0: blackMm.x0, y1: blackMm.y1 })
        expect(Math.abs(ground!.x1 - (lies.x0 + window.x1Mm))).toBeLessThan(0.1)
        expect(ground!.x1).toBeLessThan(lies.x0 + coupon.sizeMm.x)
        expect(ground!.y0).toBeLessThan(lies.y0 + window.y0Mm)
        expect(ground!.y0).toBeGreaterThan(lies.y0)
        expect(card.black).toContainEqual(ground)
      }
      const first = ladderLayout({ ...design, cardEdition: 1 }).card
      for (const { windowTarget } of first.slots) {
        expect(windowTarget.blackGroundMm).toBeUndefined()
        expect(first.black).toContainEqual(windowTarget.blackMm)
      }
    }),
    RUNS,
  )
})

it('repeats the bars of the window beside it, at the same height', () => {
  fc.assert(
    fc.property(designs, (design) => {
      for (const { windowTarget, bareTarget } of ladderLayout(design).card.slots) {
        const shift = bareTarget.blackMm.x0 - windowTarget.blackMm.x0
        const moved = ({ x0, x1, y0, y1 }: RectMm) => [x0 - shift, x1 - shift, y0, y1]
        const areas = ({ fine, medium, across, whiteMm, blackMm }: typeof bareTarget) => [
          fine.areaMm,
          medium.areaMm,
          across.areaMm,
          whiteMm,
          blackMm,
        ]
        const differences = areas(bareTarget).flatMap((area, i) => {
          const { x0, x1, y0, y1 } = areas(windowTarget)[i]!
          return moved(area).map((mm, j) => Math.abs(mm - [x0, x1, y0, y1][j]!))
        })
        expect(Math.max(...differences)).toBeLessThan(1e-9)
      }
    }),
    RUNS,
  )
})

it('leaves white the paper above and below the tone patches, to which their light is compared', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { tone, black, texts } = ladderLayout(design).card
      // Up to 1.25 mm beside each patch is looked at, and a camera blurs by 0.1 mm.
      const looked = tone.map(({ areaMm: { x0, x1, y0, y1 } }) => ({ x0, x1, y0: y0 - 1.35, y1: y1 + 1.35 }))
      const printed = [
        ...texts.map(textArea),
        ...black.filter((one) => !tone.some(({ areaMm }) => apart(one, areaMm) < 0)),
      ]
      expect(least(looked.flatMap((area) => printed.map((one) => apart(area, one))))).toBeGreaterThanOrEqual(0)
    }),
    RUNS,
  )
})

it('fills each tone patch to its coverage', () => {
  const { tone, black } = ladderLayout({
    ladderId: 'K7Q2XN',
    layerHeightUm: 50,
    pixelPitchUm: 34,
    exposuresS: [2],
  }).card
  const area = ({ x0, x1, y0, y1 }: RectMm) => (x1 - x0) * (y1 - y0)
  for (const { coverage, areaMm } of tone) {
    const inside = black.filter((one) => apart(one, areaMm) < -1e-9)
    expect(inside.reduce((sum, one) => sum + area(one), 0) / area(areaMm)).toBeCloseTo(coverage, 9)
  }
})
