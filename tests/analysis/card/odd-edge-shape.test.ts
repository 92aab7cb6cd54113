import { expect, it } from 'vitest'
import { fitSharpening, oddEdgeShape, type PrintedEdge } from '../../../analysis/card/fit-sharpening.js'
import { sharpenedEdge } from '../../../analysis/card/sharpened-edge.js'
import { SRGB_TONE, srgbFromLinear } from '../../../analysis/image/linear-light.js'
import { normalDraws } from '../../support/random.js'

const edge = { blurPx: 1, dark: srgbFromLinear(0.05), light: srgbFromLinear(0.6) }
const positionPx = Float64Array.from({ length: 41 }, (_, i) => (i - 20) / 2)

/** Six edges as a camera shows them, with the noise of some fifty rows. */
function edges(codes: Float64Array): PrintedEdge[] {
  const normal = normalDraws(5)
  return Array.from({ length: 6 }, () => ({
    positionPx,
    profile: {
      positionMm: positionPx.map((x) => 0.04 * x),
      light: codes.map((code) => code + 0.0015 * normal()),
      count: new Float64Array(positionPx.length).fill(50),
      mmPerPx: 0.04,
      fromMm: -0.4,
      toMm: 0.4,
    },
  }))
}

const oddness = (codes: Float64Array) => oddEdgeShape(fitSharpening(edges(codes), SRGB_TONE)!)
const through = (amount: number, radiusPx: number) => sharpenedEdge(positionPx, SRGB_TONE, edge, { amount, radiusPx })

it('is small behind a lens alone and behind a mask as cameras lay it', () => {
  expect(oddness(through(0, 1))).toBeLessThan(2.5)
  expect(oddness(through(0.6, 1.2))).toBeLessThan(2.5)
})

it('is large where edges are duller than a blurred step, and where they overshoot in less than a pixel', () => {
  expect(oddness(through(-0.25, 2))).toBeGreaterThan(5)
  expect(oddness(through(2, 0.5))).toBeGreaterThan(5)
})
