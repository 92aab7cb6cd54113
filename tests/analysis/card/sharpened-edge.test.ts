import { describe, expect, it } from 'vitest'
import { edgeShiftPx } from '../../../analysis/card/edge-shift.js'
import { sharpenedEdge } from '../../../analysis/card/sharpened-edge.js'
import { SRGB_TONE, srgbFromLinear } from '../../../analysis/image/linear-light.js'

const edge = { blurPx: 1.2, dark: srgbFromLinear(0.05), light: srgbFromLinear(0.6) }
const shiftPx = (seen: typeof edge) =>
  edgeShiftPx(seen, { tone: SRGB_TONE, mask: { amount: 0.5, radiusPx: 1 } }, SRGB_TONE)

describe('a sharpened edge', () => {
  it('is the mask laid over the code values, as summed step by step', () => {
    // The definition, v + a (v - Gaussian mean of v), summed by brute force in steps of a hundredth of a pixel.
    const code = (x: number) => {
      const phi = normalShare(x / edge.blurPx)
      return srgbFromLinear(0.05 + 0.55 * phi)
    }
    const sharp = (x: number, amount: number, radius: number) => {
      let [sum, total] = [0, 0]
      for (let d = -5 * radius; d <= 5 * radius; d += 0.01) {
        const w = Math.exp(-0.5 * (d / radius) ** 2)
        sum += w * code(x + d)
        total += w
      }
      return code(x) + amount * (code(x) - sum / total)
    }
    const at = [-4, -2, -1, 0, 0.5, 1.5, 3]
    const found = sharpenedEdge(at, SRGB_TONE, edge, { amount: 0.8, radiusPx: 1.3 })
    // A grid of a quarter pixel, linear in between.
    at.forEach((x, i) => expect(Math.abs(found[i]! - sharp(x, 0.8, 1.3))).toBeLessThan(0.002))
  })
})

describe('the shift of an edge by a mask', () => {
  it('is none where code values are light itself: the mask is then even about the edge', () => {
    // exponent and S-curve cannot make sRGB straight, but a narrow range of codes is nearly so.
    const narrow = { blurPx: 1.2, dark: srgbFromLinear(0.5), light: srgbFromLinear(0.51) }
    expect(Math.abs(shiftPx(narrow))).toBeLessThan(0.001)
  })

  it('of 0.5 and 1 px narrows what is dark by what another simulation found', () => {
    // By a simulation that shares no code with this program: amount 0.5, 1 px, 40 um a pixel, blur 0.8 to 1.6 px: 3.9 um of a width.
    const blurs = [0.85, 1.2, 1.6].map((blurPx) => {
      return 2 * 40 * shiftPx({ ...edge, blurPx, dark: srgbFromLinear(0.08) })
    })
    for (const um of blurs) {
      expect(um).toBeGreaterThan(3)
      expect(um).toBeLessThan(5)
    }
  })
})

/** Share of a normal distribution below a deviate, by Simpson's rule. */
function normalShare(z: number): number {
  const n = 200
  const h = z / n
  let sum = 1 + Math.exp(-0.5 * z * z)
  for (let i = 1; i < n; i++) sum += (i % 2 ? 4 : 2) * Math.exp(-0.5 * (i * h) ** 2)
  return 0.5 + (sum * h) / 3 / Math.sqrt(2 * Math.PI)
}
