import { expect, it } from 'vitest'
import type { FittedTone } from '../../../analysis/card/fit-tone.js'
import { toneUncertaintyPx } from '../../../analysis/card/tone-uncertainty.js'
import { SRGB_TONE, srgbFromLinear } from '../../../analysis/image/linear-light.js'

const edge = { blurPx: 1.25, dark: srgbFromLinear(0.08), light: srgbFromLinear(0.6) }
const fitted = (covariance: FittedTone['covariance']): FittedTone => ({
  tone: SRGB_TONE,
  inkGainUm: 0,
  residual: 0.0005,
  covariance,
  paperLight: 0.7,
  patches: [],
})

it('is the shift that an error of the exponent makes', () => {
  // A simulation that shares no code with this program: 1 % of gamma moves a line's width by 0.55 um at 40 um a pixel.
  const widthUm = 2 * 40 * toneUncertaintyPx(fitted([0.01 ** 2, 0, 0, 0]), edge)
  expect(widthUm).toBeGreaterThan(0.45)
  expect(widthUm).toBeLessThan(0.65)
})

it('is small where exponent and contrast are uncertain together in the way that leaves edges alone', () => {
  const both = toneUncertaintyPx(fitted([0.0004, 0, 0, 0.0004]), edge)
  const [against, along] = [-0.00039, 0.00039].map((c) => toneUncertaintyPx(fitted([0.0004, c, c, 0.0004]), edge))
  expect(Math.min(against!, along!)).toBeLessThan(0.9 * both)
  expect(Math.max(against!, along!)).toBeGreaterThan(both)
})
