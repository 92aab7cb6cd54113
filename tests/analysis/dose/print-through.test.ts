import { expect, it } from 'vitest'
import { fitPrintThrough } from '../../../analysis/dose/print-through.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

const curve = readReference<{ E_mJ_cm2: number[]; Cd_um: number[]; slope_Dp_um: number; se_Dp: number }>(
  'synthetic-working-curve',
)
const asRungs = (pairs: readonly (readonly [number, number])[], standardUncertainty: number) =>
  pairs.map(([exposureS, value]) => ({ exposureS, printThroughUm: { value, standardUncertainty } }))

it('finds the penetration depth of the worked curve, with the uncertainty its scatter gives', () => {
  // Stated uncertainties of 0.1 um are far below the scatter of 5.8 um, so the scatter decides.
  const pairs = curve.E_mJ_cm2.map((exposure, i) => [exposure, curve.Cd_um[i]!] as const)
  const depth = valueOf(fitPrintThrough(asRungs(pairs, 0.1)))
  expect(relativeError(depth.value, curve.slope_Dp_um)).toBeLessThan(1e-11)
  expect(relativeError(depth.standardUncertainty, curve.se_Dp)).toBeLessThan(1e-11)
})

it('does not change when every print-through is off by the same amount', () => {
  const pairs = [
    [2, 310],
    [2.5, 362],
    [3, 401],
    [4, 470],
  ] as const
  const plain = valueOf(fitPrintThrough(asRungs(pairs, 5)))
  const shifted = valueOf(
    fitPrintThrough(
      asRungs(
        pairs.map(([e, z]) => [e, z + 80]),
        5,
      ),
    ),
  )
  expect(shifted.value).toBeCloseTo(plain.value, 9)
  expect(shifted.standardUncertainty).toBeCloseTo(plain.standardUncertainty, 9)
})

it.each([
  [
    'too-few-rungs',
    [
      [2, 300],
      [3, 400],
    ],
    5,
  ],
  [
    'no-rise-with-exposure',
    [
      [2, 300],
      [2.5, 290],
      [3, 310],
    ],
    20,
  ],
  [
    'no-rise-with-exposure',
    [
      [2, 400],
      [2.5, 350],
      [3, 300],
    ],
    5,
  ],
] as const)('refuses as %s print-throughs of %j +- %d um', (code, pairs, u) => {
  expect(fitPrintThrough(asRungs(pairs, u))).toMatchObject({ ok: false, refusal: { code } })
})

it('throws for an exposure of nothing', () => {
  const message = 'fitExposureTrend needs exposures above 0 s, got 0'
  expect(() => fitPrintThrough(asRungs([[0, 300]], 5))).toThrow(new RangeError(message))
})
