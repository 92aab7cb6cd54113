import { expect, it } from 'vitest'
import { minimizeSquares, type EvaluateModel } from '../../../analysis/statistics/levenberg-marquardt.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { lastInside } from '../../../analysis/statistics/sign-intervals.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

type Four = Record<'b' | 'c' | 'd' | 'e', number>
/** Root length of ryegrass against ferulic acid, Inderjit et al. (2002); estimates published with R's drc, see the file. */
const ryegrass = readReference<{
  conc: number[]
  rootl: number[]
  published_LL4: Four & { residual_standard_error: number; dof: number }
  recomputed_high_precision: {
    estimates: Four
    rss: number
    se_gauss_newton_JtJ: Four
    profile_likelihood_95_ED50_F: [number, number]
  }
}>('ryegrass')
const { conc, rootl, published_LL4: published, recomputed_high_precision: precise } = ryegrass

/** y = c + (d - c) / (1 + exp(b (ln x - ln e))), e held at a value if given. */
const model =
  (heldE?: number): EvaluateModel =>
  ([b = 0, c = 0, d = 0, freeE = 0], residuals, jacobian) => {
    const e = heldE ?? freeE
    const n = heldE === undefined ? 4 : 3
    conc.forEach((x, row) => {
      const log = x === 0 ? 0 : Math.log(x / e)
      const power = x === 0 ? 0 : Math.exp(b * log)
      const share = 1 / (1 + power)
      const steep = (d - c) * share ** 2 * power
      residuals[row] = c + (d - c) * share - rootl[row]!
      jacobian.set([-steep * log, 1 - share, share, (steep * b) / e].slice(0, n), row * n)
    })
  }
const names = ['b', 'c', 'd', 'e'] as const
const fit = valueOf(minimizeSquares(model(), [2, 0.5, 8, 3], conc.length))

it('reaches the published estimates of the four-parameter log-logistic model', () => {
  for (const [j, name] of names.entries()) {
    // The published ones are given to five decimals, the recomputed ones to scipy's tolerance.
    expect(Math.abs(fit.parameters[j]! - published[name])).toBeLessThan(2e-5)
    expect(relativeError(fit.parameters[j]!, precise.estimates[name])).toBeLessThan(1e-6)
  }
  expect(fit.degreesOfFreedom).toBe(published.dof)
  expect(Math.abs(Math.sqrt(fit.rss / fit.degreesOfFreedom) - published.residual_standard_error)).toBeLessThan(1e-7)
})

it('has the standard errors of J transposed J, not those of the observed Hessian that drc prints', () => {
  for (const [j, name] of names.entries()) {
    const u = Math.sqrt(fit.scaledCovariance![j * 4 + j]!)
    expect(relativeError(u, precise.se_gauss_newton_JtJ[name])).toBeLessThan(1e-5)
  }
})

it('has the profile interval of the half-effect dose', () => {
  const rise = (e: number) => {
    const held = valueOf(minimizeSquares(model(e), fit.parameters.subarray(0, 3), conc.length))
    return (held.rss - fit.rss) / (fit.rss / fit.degreesOfFreedom) - coverageFactor(fit.degreesOfFreedom) ** 2
  }
  const ends = [2.2, 4.2].map((far) => lastInside(rise, fit.parameters[3]!, far, 1e-9))
  ends.forEach((end, i) => expect(relativeError(end, precise.profile_likelihood_95_ED50_F[i]!)).toBeLessThan(1e-6))
})
