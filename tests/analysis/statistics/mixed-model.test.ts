import { expect, it } from 'vitest'
import { fitMixedModel } from '../../../analysis/statistics/mixed-model.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

interface Machines {
  readonly y: number[]
  readonly group: number[]
  readonly photo: number[]
  readonly bottle: number[]
  readonly means: number[]
  readonly variances: number[]
  readonly differences: number[]
  readonly standardErrors: number[]
  readonly degreesOfFreedom: number[]
  readonly logLikelihood: [number]
}
interface Penicillin {
  readonly y: number[]
  readonly photo: number[]
  readonly bottle: number[]
  readonly mean: [number]
  readonly standardError: [number]
  readonly variances: number[]
  readonly degreesOfFreedom: [number]
}
// R 4.2.2, lme4 1.1.31, lmerTest 3.1.3; see compare-groups.R. lme4 stops when the likelihood changes by 1e-10 or so, which
// leaves variances good to 1e-4 and what depends on them less; hence the tolerances.
const reference = readReference<{ machines: Machines; machinesUnbalanced: Machines; penicillin: Penicillin }>(
  'compare-groups',
)

it.each(['machines', 'machinesUnbalanced'] as const)('agrees with lme4 and lmerTest: %s', (name) => {
  const { y, group, photo, bottle, ...expected } = reference[name]
  const design = group.map((g) => [0, 1, 2].map((one) => (one === g ? 1 : 0)))
  const model = valueOf(fitMixedModel(design, y, [photo, bottle]))
  for (const [i, mean] of expected.means.entries())
    expect(relativeError(model.coefficients[i]!, mean)).toBeLessThan(1e-6)
  const variances = [...model.variances, model.residualVariance]
  for (const [i, s] of expected.variances.entries()) expect(relativeError(variances[i]!, s)).toBeLessThan(1e-4)
  expect(Math.abs(model.logLikelihood - expected.logLikelihood[0])).toBeLessThan(1e-6)
  const contrasts = [
    [-1, 1, 0],
    [-1, 0, 1],
    [0, -1, 1],
  ]
  for (const [i, weights] of contrasts.entries()) {
    const { value, standardUncertainty, degreesOfFreedom } = model.contrast(weights)
    expect(relativeError(value, expected.differences[i]!)).toBeLessThan(1e-5)
    expect(relativeError(standardUncertainty, expected.standardErrors[i]!)).toBeLessThan(1e-5)
    expect(relativeError(degreesOfFreedom!, expected.degreesOfFreedom[i]!)).toBeLessThan(1e-3)
  }
})

it('agrees with lme4 for two crossed factors', () => {
  const { y, photo, bottle, ...expected } = reference.penicillin
  const model = valueOf(
    fitMixedModel(
      y.map(() => [1]),
      y,
      [photo, bottle],
    ),
  )
  const variances = [...model.variances, model.residualVariance]
  for (const [i, s] of expected.variances.entries()) expect(relativeError(variances[i]!, s)).toBeLessThan(1e-3)
  const { value, standardUncertainty, degreesOfFreedom } = model.contrast([1])
  expect(relativeError(value, expected.mean[0])).toBeLessThan(1e-6)
  expect(relativeError(standardUncertainty, expected.standardError[0])).toBeLessThan(1e-4)
  expect(relativeError(degreesOfFreedom!, expected.degreesOfFreedom[0])).toBeLessThan(1e-3)
})

it('is least squares when a factor shows nothing', () => {
  // Means of the two levels are alike while values within them differ, so the best variance is 0; then n - 1 degrees.
  const y = [1, 3, 2, 2.2, 0.9, 2.9]
  const model = valueOf(
    fitMixedModel(
      y.map(() => [1]),
      y,
      [['a', 'a', 'a', 'b', 'b', 'b']],
    ),
  )
  expect(model.variances).toEqual([0])
  const mean = y.reduce((a, b) => a + b) / 6
  const variance = y.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 5
  const { value, standardUncertainty, degreesOfFreedom } = model.contrast([1])
  expect(value).toBeCloseTo(mean, 12)
  expect(standardUncertainty).toBeCloseTo(Math.sqrt(variance / 6), 8)
  expect(degreesOfFreedom).toBeCloseTo(5, 6)
})

it('refuses values without scatter', () => {
  const outcome = fitMixedModel([[1], [1], [1]], [2, 2, 2], [])
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'no-scatter' } })
})
