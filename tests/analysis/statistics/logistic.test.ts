import { describe, expect, it } from 'vitest'
import { fitLogistic, type Trials } from '../../../analysis/statistics/logistic.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

interface Survivals {
  readonly survives: number[]
  readonly coefficients: number[]
  readonly standardErrors: number[]
  readonly penalisedLogLikelihood: [number]
}
const byR = readReference<{ nominalUm: number[]; exposureS: number[]; separated: Survivals; mixed: Survivals }>(
  'survival-logistic',
)
const centredLog = (values: number[]) => {
  const logs = values.map(Math.log)
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length
  return logs.map((log) => log - mean)
}
const rowsOf = ({ survives }: Survivals): Trials[] => {
  const [size, dose] = [centredLog(byR.nominalUm), centredLog(byR.exposureS)]
  return survives.map((successes, i) => ({ x: [1, size[i]!, dose[i]!], trials: 1, successes }))
}

it('maximum likelihood does not exist for separated outcomes, which the penalty makes finite', () => {
  expect(fitLogistic(rowsOf(byR.separated), { penalised: false })).toMatchObject({
    ok: false,
    refusal: { code: 'no-maximum' },
  })
  expect(valueOf(fitLogistic(rowsOf(byR.separated))).coefficients.every(Number.isFinite)).toBe(true)
})

describe("with Firth's penalty", () => {
  it.each(['separated', 'mixed'] as const)('agrees with R, package brglm2, on %s outcomes', (name) => {
    const expected = byR[name]
    const { coefficients, covariance, logLikelihood } = valueOf(fitLogistic(rowsOf(expected)))
    // brglm2 stops at 1e-7 on these; ten digits are printed.
    coefficients.forEach((value, j) => expect(relativeError(value, expected.coefficients[j]!)).toBeLessThan(1e-7))
    covariance.forEach((row, j) =>
      expect(relativeError(Math.sqrt(row[j]!), expected.standardErrors[j]!)).toBeLessThan(1e-6),
    )
    expect(logLikelihood).toBeCloseTo(expected.penalisedLogLikelihood[0], 8)
  })

  it.each([
    [0, 5],
    [3, 5],
    [5, 5],
  ])('adds half a success and half a failure to %d successes of %d', (successes, trials) => {
    // Closed form for a single proportion: Jeffreys, (y + 1/2) / (n + 1); Firth (1993) section 3.
    const { coefficients } = valueOf(fitLogistic([{ x: [1], trials, successes }]))
    expect(coefficients[0]).toBeCloseTo(Math.log((successes + 0.5) / (trials - successes + 0.5)), 6)
  })

  it('keeps a combination of the coefficients fixed, at a likelihood that is no higher', () => {
    const rows = rowsOf(byR.mixed)
    const free = valueOf(fitLogistic(rows))
    const weights = [1, 0.2, -0.4]
    const held = valueOf(fitLogistic(rows, { fixed: { weights, value: 2 } }))
    const combined = (coefficients: readonly number[]) => coefficients.reduce((sum, b, j) => sum + b * weights[j]!, 0)
    expect(combined(held.coefficients)).toBeCloseTo(2, 12)
    expect(held.logLikelihood).toBeLessThan(free.logLikelihood)
    const same = valueOf(fitLogistic(rows, { fixed: { weights, value: combined(free.coefficients) } }))
    expect(same.logLikelihood).toBeCloseTo(free.logLikelihood, 10)
  })
})

it('refuses settings that cannot tell the coefficients apart', () => {
  const rows = [0, 1].map((successes) => ({ x: [1, 2], trials: 1, successes }))
  expect(fitLogistic(rows)).toMatchObject({ ok: false, refusal: { code: 'dependent-columns' } })
})

it.each([
  [[], 'fitLogistic needs at least one setting, got 0'],
  [[{ x: [1], trials: 0, successes: 0 }], 'fitLogistic needs whole numbers of trials above 0, got 0'],
  [[{ x: [1], trials: 2, successes: 3 }], 'fitLogistic needs successes from 0 to 2, got 3'],
  [[{ x: [NaN], trials: 2, successes: 1 }], 'fitLogistic needs finite values, got NaN'],
])('throws for %j', (data, message) => {
  expect(() => fitLogistic(data)).toThrow(new RangeError(message))
})
