import { describe, expect, it } from 'vitest'
import { fitSaturation } from '../../../analysis/finish/saturating-response.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'
import { readReference } from '../../support/reference.js'

interface Certified {
  readonly x: readonly number[]
  readonly y: readonly number[]
}
const points = ({ x, y }: Certified) => x.map((amount, i) => ({ amount, value: y[i]! }))

describe('NIST StRD, y = b1 (1 - exp(-b2 x)), certified', () => {
  it('agrees with Misra1a, and says that its points do not reach the plateau', () => {
    // https://www.itl.nist.gov/div898/strd/nls/data/misra1a.shtml: b1 238.94212918 (2.7070075241), b2 5.5015643181E-04.
    const fit = valueOf(fitSaturation(points(readReference('nist-strd/Misra1a')), { startAt: 0 }))
    expect(relativeError(fit.change.value, 238.94212918)).toBeLessThan(1e-6)
    expect(relativeError(fit.change.standardUncertainty, 2.7070075241)).toBeLessThan(1e-4)
    expect(relativeError(1 / fit.scale.value, 5.5015643181e-4)).toBeLessThan(1e-6)
    expect(fit.reached).toBe(false)
  })

  it('agrees with BoxBOD', () => {
    // https://www.itl.nist.gov/div898/strd/nls/data/boxbod.shtml: b1 213.80940889 (12.354515176), b2 0.54723748542.
    const fit = valueOf(fitSaturation(points(readReference('nist-strd/BoxBOD')), { startAt: 0 }))
    expect(relativeError(fit.change.value, 213.80940889)).toBeLessThan(1e-6)
    expect(relativeError(fit.change.standardUncertainty, 12.354515176)).toBeLessThan(1e-4)
    // 95 % of the way: ln 20 / b2.
    expect(relativeError(fit.enough.value, Math.log(20) / 0.54723748542)).toBeLessThan(1e-6)
  })
})

it('holds the true amount in nine of ten and more of simulated ladders', () => {
  // Nominal 95 %; 200 seeded ladders of seven coupons, three binomial standard deviations below is 0.90.
  const normal = normalDraws(7)
  const amounts = [0, 2, 5, 10, 15, 25, 40]
  let held = 0
  for (let i = 0; i < 200; i++) {
    const data = amounts.map((amount) => ({
      amount,
      value: 0.3 - 0.2 * (1 - Math.exp(-amount / 6)) + 0.01 * normal(),
    }))
    const [low, high] = valueOf(fitSaturation(data)).enough.interval
    if (low <= 6 * Math.log(20) && 6 * Math.log(20) <= high) held++
  }
  expect(held / 200).toBeGreaterThan(0.9)
})

it('refuses too few amounts, and a line that does not bend', () => {
  const line = [0, 1, 2, 3, 4, 5].map((amount) => ({ amount, value: 2 * amount }))
  expect(fitSaturation(line.slice(0, 3))).toMatchObject({ refusal: { code: 'too-few-amounts' } })
  expect(fitSaturation(line)).toMatchObject({ refusal: { code: 'no-plateau' } })
  expect(() => fitSaturation([{ amount: -1, value: 0 }])).toThrow(RangeError)
})
