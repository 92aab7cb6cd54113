import { describe, expect, it } from 'vitest'
import { edgeShiftPx } from '../../../analysis/card/edge-shift.js'
import { maskUncertainty } from '../../../analysis/card/mask-uncertainty.js'
import { SRGB_TONE, srgbFromLinear } from '../../../analysis/image/linear-light.js'

const edge = { blurPx: 1.2, dark: srgbFromLinear(0.05), light: srgbFromLinear(0.6) }

describe('what a mask leaves open', () => {
  const fitted = {
    amount: 0,
    radiusPx: 1.2,
    covariance: [0.0025, 0, 0, 0.1] as const,
    residual: 0.002,
    edge,
    blurSpread: 0.1,
    parameters: new Float64Array(),
  }

  it('is, where none was seen, the shift of an amount of its uncertainty', () => {
    const { sharedPx } = maskUncertainty(fitted, SRGB_TONE, false)
    const shift = edgeShiftPx(edge, { tone: SRGB_TONE, mask: { amount: 0.05, radiusPx: 1.2 } }, SRGB_TONE)
    expect(sharedPx).toBeCloseTo(shift, 3)
  })

  it('grows with a likely amount left in, and by less when it is taken out', () => {
    const likely = { ...fitted, amount: 0.1 }
    const [left, taken] = [false, true].map((takenOut) => maskUncertainty(likely, SRGB_TONE, takenOut).sharedPx)
    expect(left).toBeGreaterThan(maskUncertainty(fitted, SRGB_TONE, false).sharedPx)
    expect(taken).toBeLessThan(left!)
  })

  it('differs between coupons only where their blur does', () => {
    const same = maskUncertainty({ ...fitted, blurSpread: 0 }, SRGB_TONE, false)
    expect(same.couponPx).toBe(0)
    expect(maskUncertainty(fitted, SRGB_TONE, false).couponPx).toBeGreaterThan(0)
  })
})
