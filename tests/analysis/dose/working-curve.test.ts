import { describe, expect, it } from 'vitest'
import type { CurePoint } from '../../../analysis/dose/cure-point.js'
import { doseForDepth, fitWorkingCurve } from '../../../analysis/dose/working-curve.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'
import { readReference } from '../../support/reference.js'

const worked = readReference<{
  E_mJ_cm2: number[]
  Cd_um: number[]
  slope_Dp_um: number
  se_Dp: number
  s: number
  Ec: number
  Ec_fieller95: [number, number]
  t975: number
  inverse_Cd150: { E: number; lnE_fieller95_line: [number, number]; lnE_fieller95_one_new_obs: [number, number] }
}>('synthetic-working-curve')
const points = worked.E_mJ_cm2.map((doseMjPerCm2, i) => ({ doseMjPerCm2, depthUm: worked.Cd_um[i]! }))

describe('the worked curve, solved with 40-digit arithmetic', () => {
  const curve = valueOf(fitWorkingCurve(points))

  it('has its Dp, Ec and Fieller interval', () => {
    expect(relativeError(curve.penetrationDepthUm.value, worked.slope_Dp_um)).toBeLessThan(1e-13)
    expect(relativeError(curve.penetrationDepthUm.standardUncertainty, worked.se_Dp)).toBeLessThan(1e-12)
    const [low, high] = curve.penetrationDepthIntervalUm
    expect(relativeError((high - low) / 2, worked.t975 * worked.se_Dp)).toBeLessThan(1e-12)
    expect(relativeError(curve.criticalDoseMjPerCm2, worked.Ec)).toBeLessThan(1e-12)
    curve.criticalDoseIntervalMjPerCm2.forEach((end, i) =>
      expect(relativeError(end, worked.Ec_fieller95[i]!)).toBeLessThan(1e-11),
    )
    expect(relativeError(curve.scatterUm, worked.s)).toBeLessThan(1e-12)
  })

  it('gives the dose for 150 um, for the curve and for one further layer', () => {
    const { doseMjPerCm2, intervalMjPerCm2, oneLayerMjPerCm2 } = doseForDepth(curve, 150)
    expect(relativeError(doseMjPerCm2, worked.inverse_Cd150.E)).toBeLessThan(1e-12)
    intervalMjPerCm2.forEach((end, i) =>
      expect(Math.log(end)).toBeCloseTo(worked.inverse_Cd150.lnE_fieller95_line[i]!, 11),
    )
    oneLayerMjPerCm2.forEach((end, i) =>
      expect(Math.log(end)).toBeCloseTo(worked.inverse_Cd150.lnE_fieller95_one_new_obs[i]!, 11),
    )
  })

  it('is straight, and its lowest dose is a soft gel at 1.27 Ec', () => {
    expect(curve.curvature.verdict).toBe('straight')
    expect(curve.advice.map(({ index, why }) => [index, why])).toEqual([[0, 'soft-gel']])
  })
})

// Open spectra of liquids, see the file: depth at which the light of a film with that absorbance falls to Ec.
const { filmUm, rows } = readReference<{
  filmUm: number
  rows: { resin: string; absorbance405: number; depth405Um: number }[]
}>('resin-absorbance')
it.each(rows)('finds the depth of $resin from where its measured absorbance lets light reach', (row) => {
  const critical = 8
  const light = (dose: number, depth: number) => dose * 10 ** ((-row.absorbance405 * depth) / filmUm)
  const cured = [10, 15, 25, 40, 70].map((doseMjPerCm2) => {
    let [low, high] = [0, 1e5]
    for (let i = 0; i < 100; i++) {
      const middle = (low + high) / 2
      if (light(doseMjPerCm2, middle) > critical) low = middle
      else high = middle
    }
    return { doseMjPerCm2, depthUm: low }
  })
  const curve = valueOf(fitWorkingCurve(cured))
  // The table gives one decimal, from absorbances of four.
  expect(Math.abs(curve.penetrationDepthUm.value - row.depth405Um)).toBeLessThan(0.06)
  expect(relativeError(curve.criticalDoseMjPerCm2, critical)).toBeLessThan(1e-9)
})

const doses = [6, 9, 13, 19, 28, 42, 60, 90]
const straight = (dose: number) => 120 * Math.log(dose / 4)
const scatter = [2, -3, 1, 3, -2, -1, 2, -2]
const curveOf = (depth: (dose: number, i: number) => number): CurePoint[] =>
  doses.map((doseMjPerCm2, i) => ({ doseMjPerCm2, depthUm: depth(doseMjPerCm2, i) + scatter[i]! }))

it('points at an outlier, and says what the curve is without it', () => {
  const { advice } = valueOf(fitWorkingCurve(curveOf((dose, i) => straight(dose) + (i === 4 ? -60 : 0))))
  expect(advice[0]).toMatchObject({ index: 4, why: 'outlier' })
  expect(advice[0]!.inWords).toMatch(/6\d um below the line of the others/)
  expect(Math.abs(advice[0]!.withoutIt.penetrationDepthUm - 120)).toBeLessThan(3)
})

it('sees a curve that saturates, and advises against its highest dose', () => {
  const { curvature, advice } = valueOf(
    fitWorkingCurve(curveOf((dose) => straight(dose) - 25 * Math.log(dose / 6) ** 2)),
  )
  expect(curvature.verdict).toBe('saturates')
  expect(advice.map(({ index, why }) => [index, why])).toContainEqual([7, 'saturated'])
})

it('sees a curve that steepens', () => {
  const { curvature } = valueOf(fitWorkingCurve(curveOf((dose) => straight(dose) + 15 * Math.log(dose / 6) ** 2)))
  expect(curvature.verdict).toBe('steepens')
})

it('calls straight curves bent, and good points outliers, in 5 % of seeded curves', () => {
  const draw = normalDraws(31)
  let [bent, outliers] = [0, 0]
  const repeats = 2000
  for (let i = 0; i < repeats; i++) {
    const curve = valueOf(
      fitWorkingCurve(doses.map((dose) => ({ doseMjPerCm2: dose, depthUm: straight(dose) + 4 * draw() }))),
    )
    if (curve.curvature.verdict !== 'straight') bent++
    if (curve.advice.some(({ why }) => why === 'outlier')) outliers++
  }
  // Binomial standard deviation 0.5 %; Bonferroni errs a little to the safe side.
  expect(Math.abs(bent / repeats - 0.05)).toBeLessThan(0.02)
  expect(outliers / repeats).toBeLessThan(0.065)
  expect(outliers / repeats).toBeGreaterThan(0.03)
})

it('refuses two doses, and depths that do not grow', () => {
  expect(fitWorkingCurve(points.slice(0, 2))).toMatchObject({ refusal: { code: 'too-few-doses' } })
  const flat = doses.map((doseMjPerCm2, i) => ({ doseMjPerCm2, depthUm: 100 + scatter[i]! }))
  expect(fitWorkingCurve(flat)).toMatchObject({ refusal: { code: 'no-growth-with-dose' } })
})

it('does not judge curvature on three doses, nor points on four', () => {
  const three = valueOf(fitWorkingCurve([points[0]!, points[5]!, points[9]!]))
  expect(three.curvature).toEqual({ quadraticUm: null, verdict: 'too-few-doses' })
  expect(three.advice).toEqual([])
})

it('throws for an uncured patch', () => {
  const message = 'fitWorkingCurve needs doses and depths above 0, got 0'
  expect(() => fitWorkingCurve([{ doseMjPerCm2: 3, depthUm: 0 }])).toThrow(new RangeError(message))
})
