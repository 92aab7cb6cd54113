import { expect, it } from 'vitest'
import { calibrateHaze } from '../../../analysis/window/calibrate-haze.js'
import { clarityScore } from '../../../analysis/window/clarity-score.js'

const sure = (value: number) => ({ value, standardUncertainty: 0 })

it('scores resin that is not there 100, and stays between 0 and 100', () => {
  expect(clarityScore({ haze: sure(0), surface: sure(0), deltaB: sure(0) }).value).toBe(100)
  expect(clarityScore({ haze: sure(0.9), surface: sure(1), deltaB: sure(30) }).value).toBe(0)
  expect(clarityScore({ haze: sure(-0.02), surface: sure(0), deltaB: sure(0) }).value).toBe(100)
})

it('is what the formula beside it says', () => {
  const parts = { haze: { value: 0.1, standardUncertainty: 0.02 }, surface: sure(0.3), deltaB: sure(-4) }
  const { value, standardUncertainty, formula } = clarityScore(parts)
  const [haze, surface, deltaB] = [...formula.matchAll(/(\d+) x/g)].map(([, weight]) => Number(weight))
  expect(value).toBeCloseTo(100 - haze! * 0.1 - surface! * 0.3 - deltaB! * 4, 9)
  expect(standardUncertainty).toBeCloseTo(haze! * 0.02, 9)
})

it('puts two pieces of known haze on their own values, and others on the line through them', () => {
  const standards = [
    { index: 0.02, hazePercent: 1 },
    { index: 0.22, hazePercent: 31 },
  ] as const
  expect(calibrateHaze({ value: 0.02, standardUncertainty: 0.01 }, standards)).toEqual({
    value: 1,
    standardUncertainty: 1.5,
  })
  expect(calibrateHaze(sure(0.22), standards).value).toBeCloseTo(31, 9)
  expect(calibrateHaze(sure(0.12), standards).value).toBeCloseTo(16, 9)
  expect(() => calibrateHaze(sure(0.1), [standards[0], standards[0]])).toThrow(RangeError)
})
