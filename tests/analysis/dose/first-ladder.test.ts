import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planLadder } from '../../../analysis/dose/first-ladder.js'
import { decimalsOfStep, roundToStep } from '../../../analysis/dose/time-step.js'

it('spaces rungs geometrically about the centre, in time steps', () => {
  // 2.5 * 1.2^(-2.5 ... 2.5) = 1.585, 1.902, 2.282, 2.739, 3.286, 3.944.
  expect(planLadder({ centreS: 2.5, ratio: 1.2 })).toEqual([1.6, 1.9, 2.3, 2.7, 3.3, 3.9])
  expect(planLadder({ centreS: 8, ratio: 1.5, rungs: 3, timeStepS: 0.25 })).toEqual([5.25, 8, 12])
})

it('moves rungs that rounding would merge up a step, and starts at one step', () => {
  expect(planLadder({ centreS: 0.2, ratio: 1.1, rungs: 4 })).toEqual([0.2, 0.3, 0.4, 0.5])
  expect(planLadder({ centreS: 0.01, rungs: 3 })).toEqual([0.1, 0.2, 0.3])
})

it('is ascending, all different, in whole steps, as many as asked, whatever the wish', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 200, noNaN: true }),
      fc.double({ min: 1.001, max: 3, noNaN: true }),
      fc.integer({ min: 1, max: 12 }),
      fc.constantFrom(0.01, 0.05, 0.1, 0.25, 0.5, 1),
      (centreS, ratio, rungs, timeStepS) => {
        const ladder = planLadder({ centreS, ratio, rungs, timeStepS })
        expect(ladder).toHaveLength(rungs)
        ladder.forEach((exposure, i) => {
          expect(exposure).toBeGreaterThan(i === 0 ? 0 : ladder[i - 1]!)
          const steps = exposure / timeStepS
          expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-6)
          expect(String(exposure).length).toBeLessThan(10) // no binary dust such as 0.30000000000000004
        })
      },
    ),
  )
})

it.each([
  [{ centreS: 0 }, 'planLadder needs a centre above 0 s, got 0'],
  [{ centreS: 2, ratio: 1 }, 'planLadder needs a ratio above 1, got 1'],
  [{ centreS: 2, rungs: 2.5 }, 'planLadder needs a whole number of rungs, got 2.5'],
  [{ centreS: 2, timeStepS: 0 }, 'planLadder needs a time step above 0 s, got 0'],
])('throws for %o', (plan, message) => {
  expect(() => planLadder(plan)).toThrow(new RangeError(message))
})

describe('rounding to the time step', () => {
  const options = { timeStepS: 0.1, printedS: [1.6, 3.9] }

  it('takes the nearest multiple', () => {
    expect(roundToStep(2.449, { ...options, withinS: [1.6, 3.9] })).toBe(2.4)
    expect(roundToStep(2.451, { ...options, withinS: [1.6, 3.9] })).toBe(2.5)
    expect(roundToStep(2.4, { ...options, withinS: [1.6, 3.9] })).toBe(2.4)
  })

  it('turns inwards at a bound', () => {
    expect(roundToStep(2.449, { ...options, withinS: [2.43, 3.9] })).toBe(2.5)
    expect(roundToStep(2.451, { ...options, withinS: [1.6, 2.46] })).toBe(2.4)
  })

  it('falls back on a printed exposure where the bounds hold no multiple', () => {
    expect(roundToStep(2.25, { timeStepS: 1, withinS: [2.1, 2.9], printedS: [2.1, 2.4, 2.9] })).toBe(2.1)
    expect(roundToStep(2.25, { timeStepS: 1, withinS: [2.2, 2.3], printedS: [2.1, 2.9] })).toBe(2.1)
  })

  it.each([
    [1, 0],
    [0.5, 1],
    [0.25, 2],
    [0.1, 1],
    [0.05, 2],
  ])('writes multiples of %d with %d decimals', (step, decimals) => {
    expect(decimalsOfStep(step)).toBe(decimals)
  })
})
