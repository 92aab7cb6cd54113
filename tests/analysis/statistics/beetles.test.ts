import erf from '@stdlib/math-base-special-erf'
import { describe, expect, it } from 'vitest'
import { solveFieller } from '../../../analysis/statistics/fieller.js'
import { fitLinear, type LinearFit } from '../../../analysis/statistics/linear-least-squares.js'
import { fitLogistic } from '../../../analysis/statistics/logistic.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

interface Fit {
  readonly intercept: number
  readonly slope: number
  readonly se_intercept: number
  readonly se_slope: number
  readonly cov: number
  readonly deviance: number
  readonly ED50_fieller95: readonly [number, number]
  readonly ED90_fieller95: readonly [number, number]
  readonly ED99_fieller95: readonly [number, number]
}
// Bliss's beetles (1935) under carbon disulphide, as in Dobson, An Introduction to Generalized Linear Models: see the file.
const beetles = readReference<{
  log10Dose: number[]
  n: number[]
  killed: number[]
  published: {
    logit: { intercept: number; se_intercept: number; slope: number; se_slope: number; deviance: number }
    probit: { deviance: number }
  }
  logit: Fit
  probit: Fit
}>('beetle-mortality')
const rows = beetles.log10Dose.map((dose, i) => ({
  x: [1, dose],
  trials: beetles.n[i]!,
  successes: beetles.killed[i]!,
}))
const design = rows.map(({ x }) => x)

const normalDensity = (x: number) => Math.exp(-(x ** 2) / 2) / Math.sqrt(2 * Math.PI)
const normalShare = (x: number) => (1 + erf(x * Math.SQRT1_2)) / 2

/** Maximum likelihood under the normal's link by weighted least squares on working responses (Dobson, section 4.4). */
function fitProbit() {
  let fit: Pick<LinearFit, 'coefficients' | 'covariance'> = { coefficients: [-35, 20], covariance: [] }
  for (let step = 0; step < 12; step++) {
    const working = rows.map(({ x, trials, successes }) => {
      const eta = fit.coefficients[0]! + fit.coefficients[1]! * x[1]!
      const [share, density] = [normalShare(eta), normalDensity(eta)]
      return {
        response: eta + (successes / trials - share) / density,
        weight: (trials * density ** 2) / (share * (1 - share)),
      }
    })
    const [responses, weights] = [working.map(({ response }) => response), working.map(({ weight }) => weight)]
    fit = valueOf(fitLinear(design, responses, weights, 'given'))
  }
  return fit
}

const shareOf = { logit: (eta: number) => 1 / (1 + Math.exp(-eta)), probit: normalShare }
/** Link of 50, 90 and 99 % killed; the normal's quantiles from its table, to ten decimals. */
const linkOf = {
  logit: [0, Math.log(9), Math.log(99)],
  probit: [0, 1.2815515655, 2.326347874],
} as const
const fits = { logit: valueOf(fitLogistic(rows, { penalised: false })), probit: fitProbit() }

function deviance(link: 'logit' | 'probit'): number {
  const [a, b] = fits[link].coefficients as [number, number]
  const part = (seen: number, expected: number) => (seen > 0 ? seen * Math.log(seen / expected) : 0)
  return rows.reduce((sum, { x, trials, successes }) => {
    const expected = trials * shareOf[link](a + b * x[1]!)
    return sum + 2 * (part(successes, expected) + part(trials - successes, trials - expected))
  }, 0)
}

describe.each(['logit', 'probit'] as const)('mortality by dose, %s', (link) => {
  const known = beetles[link]
  const { coefficients, covariance } = fits[link]

  it('has the coefficients, their covariance and the deviance', () => {
    // Scoring stops 1e-7 standard uncertainties from the maximum, and the dose is not centred, which costs four digits.
    expect(relativeError(coefficients[0]!, known.intercept)).toBeLessThan(1e-7)
    expect(relativeError(coefficients[1]!, known.slope)).toBeLessThan(1e-7)
    expect(relativeError(Math.sqrt(covariance[0]![0]!), known.se_intercept)).toBeLessThan(1e-6)
    expect(relativeError(Math.sqrt(covariance[1]![1]!), known.se_slope)).toBeLessThan(1e-6)
    expect(relativeError(covariance[0]![1]!, known.cov)).toBeLessThan(1e-6)
    expect(relativeError(deviance(link), known.deviance)).toBeLessThan(1e-9)
  })

  it.each([
    ['50 %', 0, known.ED50_fieller95],
    ['90 %', 1, known.ED90_fieller95],
    ['99 %', 2, known.ED99_fieller95],
  ] as const)('gives the dose that kills %s its Fieller limits', (_, place, [low, high]) => {
    const set = solveFieller(
      {
        intercept: coefficients[0]! - linkOf[link][place],
        slope: coefficients[1]!,
        interceptVariance: covariance[0]![0]!,
        slopeVariance: covariance[1]![1]!,
        covariance: covariance[0]![1]!,
      },
      coverageFactor(undefined),
    )
    if (set.kind !== 'bounded') throw new Error(set.kind)
    expect(set.low).toBeCloseTo(low, 8)
    expect(set.high).toBeCloseTo(high, 8)
  })
})

it('is what the book prints', () => {
  const { logit, probit } = beetles.published
  const { coefficients, covariance } = fits.logit
  expect(coefficients.map((value) => Number(value.toFixed(2)))).toEqual([logit.intercept, logit.slope])
  expect([0, 1].map((j) => Number(Math.sqrt(covariance[j]![j]!).toFixed(2)))).toEqual([
    logit.se_intercept,
    logit.se_slope,
  ])
  expect(Number(deviance('logit').toFixed(2))).toBe(logit.deviance)
  expect(Number(deviance('probit').toFixed(2))).toBe(probit.deviance)
})
