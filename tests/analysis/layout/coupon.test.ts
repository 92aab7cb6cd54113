import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import { couponLayout, vernierPitchMm } from '../../../analysis/layout/coupon.js'
import type { Prism } from '../../../analysis/layout/schema.js'
import { designs } from '../../support/designs.js'

const bounds = ({ polygon }: Prism) => {
  const [xs, ys] = [polygon.map(([x]) => x), polygon.map(([, y]) => y)]
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) }
}
const grooves = (prisms: readonly Prism[]) => prisms.filter(({ kind }) => kind === 'void')

/** Layout numbers are rounded to a nanometre. */
const ROUNDING_MM = 1e-6

it('keeps every groove off the outline, the legs, the window, the base layers and the last layers', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { prisms, sizeMm, window, key, caliperMm } = couponLayout(design)
      const all = grooves(prisms)
      const places = all.map(bounds)
      for (const { x0, x1, y0, y1 } of places)
        if (!(x0 < x1 && y0 < y1)) throw new Error(`empty groove at ${x0}, ${y0}`)
      // Base layers reach 1.5 mm; above, a few penetration depths of resin must follow.
      expect(Math.min(...places.map(({ y0 }) => y0))).toBeGreaterThan(1.5)
      expect(Math.max(...places.map(({ y1 }) => y1))).toBeLessThan(sizeMm.y - 1)
      expect(new Set(all.map(({ z1 }) => z1))).toEqual(new Set([sizeMm.z]))
      // The key alone lies on a leg. Beside a leg 1.3 mm mirror its wall.
      expect([key.x0Mm > 0.5, key.x1Mm < caliperMm - 0.5]).toEqual([true, true])
      const others = all.filter(({ role }) => role !== 'key').map(bounds)
      expect(Math.min(...others.map(({ x0 }) => x0))).toBeGreaterThan(caliperMm + 1.3)
      expect(Math.max(...others.map(({ x1 }) => x1))).toBeLessThan(window.x0Mm)
    }),
  )
})

it('lets no two grooves meet', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const all = grooves(couponLayout(design).prisms).map(bounds)
      const walls = all.flatMap((a, i) =>
        all.slice(i + 1).map((b) => Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1)),
      )
      // The thinnest wall is the line of 0.1 mm, rounded to pixels: at 67 um a single one.
      expect(Math.min(...walls)).toBeGreaterThan(0.066)
    }),
  )
})

it('begins and ends each gap with a whole layer, and leaves 0.9 mm of solid less half a layer before the next', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const layerMm = design.layerHeightUm / 1000
      const { gaps } = couponLayout(design)
      for (const { gapMm, y0Mm, y1Mm } of gaps) {
        expect(Math.abs(y0Mm - Math.round(y0Mm / layerMm) * layerMm)).toBeLessThan(2 * ROUNDING_MM)
        expect(Math.abs(y1Mm - Math.round(y1Mm / layerMm) * layerMm)).toBeLessThan(2 * ROUNDING_MM)
        expect(gapMm).toBeCloseTo(y1Mm - y0Mm, 5)
        expect(gapMm).toBeGreaterThan(0)
      }
      for (const [i, gap] of gaps.entries()) {
        const next = gaps[i + 1]
        if (next?.x0Mm === gap.x0Mm) expect(next.y0Mm - gap.y1Mm).toBeGreaterThan(0.9 - layerMm / 2 - 2 * ROUNDING_MM)
      }
    }),
  )
})

it('makes isolated lines and spaces of whole pixels, at whole pixels', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const pixelMm = design.pixelPitchUm / 1000
      const { isolated } = couponLayout(design)
      expect(isolated).toHaveLength(14)
      const off = isolated.flatMap(({ x0Mm, x1Mm }) =>
        [x0Mm, x1Mm].map((xMm) => Math.abs(xMm - Math.round(xMm / pixelMm) * pixelMm)),
      )
      // Widths and distances are rounded one after the other along a row of seven.
      expect(Math.max(...off)).toBeLessThan(20 * ROUNDING_MM)
      const stated = isolated.map(({ x0Mm, x1Mm, widthMm }) => Math.abs(widthMm - (x1Mm - x0Mm)))
      expect(Math.max(...stated)).toBeLessThan(2 * ROUNDING_MM)
    }),
  )
})

it('comes within half a pixel of the wanted pitch, at a whole number of pixels and one n-th', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.3, max: 2, noNaN: true }),
      fc.integer({ min: 2, max: 20 }),
      fc.double({ min: 0.008, max: 0.12, noNaN: true }),
      (wantedMm, lines, pixelMm) => {
        const pitchMm = vernierPitchMm(wantedMm, lines, pixelMm)
        expect(Math.abs(pitchMm - wantedMm)).toBeLessThanOrEqual(pixelMm / 2 + ROUNDING_MM)
        const rest = pitchMm / pixelMm - 1 / lines
        expect(Math.abs(rest - Math.round(rest)) * pixelMm).toBeLessThan(2 * ROUNDING_MM)
      },
    ),
  )
})

it('keeps the mean rounding of a grating to the pixels of a mask below 1/(2n) pixel, wherever it lies', () => {
  fc.assert(
    fc.property(designs, fc.double({ min: 0, max: 1, noNaN: true }), (design, place) => {
      const pixelMm = design.pixelPitchUm / 1000
      for (const { x0Mm, pitchMm, grooveMm, grooves: n } of couponLayout(design).gratings) {
        const rounding = (xMm: number) => Math.round(xMm / pixelMm) * pixelMm - xMm
        const mean = (offsetMm: number) =>
          Array.from({ length: n }, (_, i) => rounding(x0Mm + place * pixelMm + i * pitchMm + offsetMm)).reduce(
            (sum, error) => sum + error / n,
            0,
          )
        const [left, right] = [mean(0), mean(grooveMm)]
        // Pitches are rounded to a nanometre, which over n lines moves a phase by as much.
        const boundMm = pixelMm / (2 * n) + n * ROUNDING_MM
        expect(Math.abs(left)).toBeLessThanOrEqual(boundMm)
        expect(Math.abs(right)).toBeLessThanOrEqual(boundMm)
        expect(Math.abs(right - left)).toBeLessThanOrEqual(boundMm)
      }
    }),
  )
})

it('refuses a pixel or a layer that has no size', () => {
  for (const none of [0, -1, NaN, Infinity]) {
    expect(() => couponLayout({ pixelPitchUm: none, layerHeightUm: 50 })).toThrow(
      new RangeError(`couponLayout needs a pixel pitch above zero, got ${none}`),
    )
    expect(() => couponLayout({ pixelPitchUm: 34, layerHeightUm: none })).toThrow(
      new RangeError(`couponLayout needs a layer height above zero, got ${none}`),
    )
  }
})
