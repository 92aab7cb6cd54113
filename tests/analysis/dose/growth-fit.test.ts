import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { evaluateGrowth, fitGrowth, growthAt, rungRangeS, type GrowthFit } from '../../../analysis/dose/growth-fit.js'
import { makeRungs } from '../../support/ladders.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

/** Made for this project, its statistics from 40-digit arithmetic: a straight line on ln(exposure), equal weights. */
const curve = readReference<{
  E_mJ_cm2: number[]
  Cd_um: number[]
  slope_Dp_um: number
  intercept_um: number
  se_Dp: number
  se_intercept: number
  dof: number
}>('synthetic-working-curve')

describe('the worked straight line', () => {
  const rungs = makeRungs(curve.E_mJ_cm2.map((exposure, i) => [exposure, curve.Cd_um[i]!]))
  const fit = valueOf(fitGrowth(rungs, { noise: 'scatter' }))

  it('has its slope and intercept with their uncertainties', () => {
    expect(fit.chosen.model).toBe('straight')
    expect(fit.chosen.degreesOfFreedom).toBe(curve.dof)
    // Ten digits of fifteen: centring on the reference and back costs a few.
    expect(relativeError(fit.chosen.parameters[1]!, curve.slope_Dp_um)).toBeLessThan(1e-12)
    expect(relativeError(Math.sqrt(fit.chosen.covariance[1]![1]!), curve.se_Dp)).toBeLessThan(1e-12)
    const intercept = growthAt(fit, 1) // ln(1) = 0
    expect(relativeError(intercept.value, curve.intercept_um)).toBeLessThan(1e-12)
    expect(relativeError(intercept.standardUncertainty, curve.se_intercept)).toBeLessThan(1e-12)
  })

  it('leaves residuals that add to the fitted values', () => {
    for (const { growthUm, fittedUm, residualUm } of fit.rungs)
      expect(fittedUm + residualUm).toBeCloseTo(growthUm.value, 10)
  })
})

// Gaussian-blurred knife edge, growth in units of the blur at exposures in units of the critical exposure: closed form
// x = sqrt(2) sigma erfcinv(2 Ec / E), dx/dlnE at E = 2 Ec is sigma sqrt(pi / 2).
const knifeEdge = [
  [1.5, -0.4307272992954575],
  [2, 0],
  [3, 0.4307272992954576],
  [4, 0.67449],
  [5, 0.8416212335729143],
] as const

const edge = (rungs: readonly (readonly [number, number])[], standardUncertainty: number, blurUm = 30) =>
  valueOf(
    fitGrowth(
      makeRungs(
        rungs.map(([e, x]) => [e, blurUm * x]),
        standardUncertainty,
      ),
    ),
  )

describe('the choice of model', () => {
  it('finds blur and critical exposure of a knife edge', () => {
    const fit = edge(knifeEdge, 1)
    expect(fit.chosen.model).toBe('threshold')
    // The tabulated edge has seven digits at its fourth rung.
    expect(relativeError(fit.chosen.parameters[0]!, 30)).toBeLessThan(1e-6)
    expect(Math.abs(Math.log(fit.referenceS) + fit.chosen.parameters[1]! - Math.log(2))).toBeLessThan(1e-6)
    expect(fit.candidates.map(({ model }) => model).sort()).toEqual(['quadratic', 'straight', 'threshold'])
    expect(fit.candidates.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12)
    expect(fit.whyChosen).toMatch(
      /^threshold: lowest criterion; [\d.]+ below the quadratic one; [\d.]+ below the straight/,
    )
  })

  it('takes the quadratic for a bend that no edge has', () => {
    const rungs = [1.5, 2, 3, 4, 5].map((e) => [e, Math.log(e) ** 2] as const)
    expect(edge(rungs, 0.2).chosen.model).toBe('quadratic')
  })

  it('keeps a straight line straight', () => {
    expect(
      edge(
        [1.5, 2, 3, 4, 5].map((e) => [e, Math.log(e / 2)] as const),
        0.5,
      ).chosen.model,
    ).toBe('straight')
  })

  it('hardly prefers any when the rungs are too coarse to tell', () => {
    const { candidates } = edge(knifeEdge, 20)
    expect(candidates[0]!.weight - candidates[1]!.weight).toBeLessThan(0.1)
  })

  it('has no quadratic below five rungs', () => {
    const fit = edge(knifeEdge.slice(0, 4), 0.1)
    expect(fit.candidates.map(({ model }) => model)).toEqual(['threshold', 'straight'])
    expect(fit.whyChosen).toContain('5 rungs')
  })

  it('never takes a quadratic that has growth fall between the rungs, however well it fits', () => {
    const overTheTop = [1, 2, 3, 4, 5, 6].map((e) => [e, 20 - 30 * (Math.log(e) - 1.2) ** 2] as const)
    const fit = valueOf(fitGrowth(makeRungs(overTheTop)))
    const bent = fit.candidates.find(({ model }) => model === 'quadratic')!
    expect(bent.criterion).toBeLessThan(fit.chosen.criterion)
    expect(bent.weight).toBe(0)
    expect(fit.chosen.model).not.toBe('quadratic')
    expect(fit.whyChosen).toContain('fall')
  })
})

describe('the common offset', () => {
  const rungs = makeRungs(
    [
      [2, -10],
      [2.5, -3],
      [3, 4],
    ],
    1,
  )
  const [without, withOffset] = [valueOf(fitGrowth(rungs)), valueOf(fitGrowth(rungs, { commonUncertaintyUm: 4 }))]

  it('leaves slope and coefficients alone', () => {
    expect(withOffset.chosen.parameters).toEqual(without.chosen.parameters)
    expect(withOffset.chosen.covariance).toEqual(without.chosen.covariance)
  })

  it('adds to the variance of absolute growth', () => {
    const [alone, both] = [growthAt(without, 2.4), growthAt(withOffset, 2.4)]
    expect(both.value).toBe(alone.value)
    expect(both.standardUncertainty).toBeCloseTo(Math.hypot(alone.standardUncertainty, 4), 12)
  })

  it('shares degrees of freedom with the fit by Welch-Satterthwaite', () => {
    const scattered = makeRungs(
      [
        [2, -10],
        [2.5, 3],
        [3, 4],
      ],
      1,
    )
    const [a, b] = [0, 4].map((commonUncertaintyUm) =>
      growthAt(valueOf(fitGrowth(scattered, { commonUncertaintyUm })), 2.4),
    )
    const share = (b!.standardUncertainty / a!.standardUncertainty) ** 4
    expect(b!.degreesOfFreedom).toBeCloseTo(a!.degreesOfFreedom! * share, 9)
  })
})

it('gives the same growth and uncertainty in whatever order the rungs come, and in minutes as in seconds', () => {
  const ladder = fc.uniqueArray(fc.integer({ min: 5, max: 100 }), { minLength: 3, maxLength: 9 })
  fc.assert(
    fc.property(
      ladder,
      fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 9, maxLength: 9 }),
      (steps, growth) => {
        // Scattered by up to 10 um about a rise, as ladders are; where all is scatter an edge may end at a rung.
        const pairs = steps.map((step, i) => [step / 10, 40 * Math.log(step / 30) + growth[i]! / 4] as const)
        const forward = valueOf(fitGrowth(makeRungs(pairs, 5)))
        const backward = valueOf(fitGrowth(makeRungs([...pairs].reverse(), 5)))
        const minutes = valueOf(
          fitGrowth(
            makeRungs(
              pairs.map(([e, g]) => [e / 60, g]),
              5,
            ),
          ),
        )
        for (const [other, scale] of [
          [backward, 1],
          [minutes, 60],
        ] as [GrowthFit, number][]) {
          // Near a tie of the criteria rounding may choose; elsewhere everything is the same to the search's tolerance.
          const [best, next] = forward.candidates.map(({ criterion }) => criterion).sort((x, y) => x - y)
          fc.pre(next === undefined || next - best! > 1e-6)
          for (const end of rungRangeS(forward)) {
            const [a, b] = [growthAt(forward, end), growthAt(other, end / scale)]
            expect(Math.abs(a.value - b.value)).toBeLessThan(1e-5)
            expect(relativeError(b.standardUncertainty, a.standardUncertainty)).toBeLessThan(1e-5)
          }
        }
      },
    ),
  )
})

it('gives as slope the derivative of the growth, under every model', () => {
  const h = 1e-5
  for (const model of edge(knifeEdge, 0.5).candidates) {
    const difference = (evaluateGrowth(model, 0.2 + h).growthUm - evaluateGrowth(model, 0.2 - h).growthUm) / (2 * h)
    // What is left is rounding over the small step.
    expect(evaluateGrowth(model, 0.2).slopeUm).toBeCloseTo(difference, 6)
  }
})

it.each([
  [
    'two rungs',
    [
      [2, -1],
      [3, 1],
    ],
  ],
  [
    'three rungs at two exposures',
    [
      [2, -1],
      [3, 1],
      [3, 2],
    ],
  ],
  ['none', []],
] as const)('refuses %s', (_, pairs) => {
  expect(fitGrowth(makeRungs(pairs))).toMatchObject({ ok: false, refusal: { code: 'too-few-rungs' } })
})

it.each([
  [makeRungs([[0, 1]]), {}, 'fitGrowth needs exposures above 0 s, got 0'],
  [makeRungs([[1, Number.NaN]]), {}, 'fitGrowth needs finite growth in um, got NaN'],
  [makeRungs([[1, 1]], 0), {}, 'fitGrowth needs standard uncertainties above 0 um, got 0'],
  [makeRungs([[1, 1]]), { commonUncertaintyUm: -1 }, 'fitGrowth needs a common uncertainty of at least 0 um, got -1'],
])('throws for wrong arguments', (rungs, options, message) => {
  expect(() => fitGrowth(rungs, options)).toThrow(new RangeError(message))
})
