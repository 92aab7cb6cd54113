import type { Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { fitMixedModel } from '../statistics/mixed-model.js'
import { combineUncertainty } from '../statistics/uncertainty.js'
import { chooseTerms, type RandomTerm, type Terms } from './choose-terms.js'
import type { Observation } from './observation.js'

/**
 * How the scatter behind the intervals was found: each group's own (`welch`), one for all groups (`pooled`), several
 * sources kept apart (`mixed`), or not at all, so that stated uncertainties stand alone (`stated`).
 */
export type Method = 'welch' | 'pooled' | 'mixed' | 'stated'

export interface GroupMean {
  readonly group: string
  readonly coupons: number
  readonly photos: number
  readonly mean: Estimate
}

export interface GroupDifference {
  /** Places in `groups`: second less first. */
  readonly pair: readonly [number, number]
  readonly difference: Estimate
  readonly scatterVariance: number
  /** Part of the variance that comes from stated uncertainty. */
  readonly statedVariance: number
}

export interface GroupComparison {
  readonly method: Method
  readonly terms: Terms
  readonly groups: readonly GroupMean[]
  readonly differences: readonly GroupDifference[]
  /** Standard deviation of each source of scatter, where sources were kept apart. */
  readonly sources: readonly { readonly source: RandomTerm | 'rest'; readonly standardDeviation: number }[]
}

/**
 * Means of groups of coupons and the differences between them.
 *
 * Welch's differences when every group shows its own scatter and nothing repeats; a linear model with one scatter when
 * an exposure is to be taken out or a group has one coupon; with random effects of photograph, bottle and coupon when
 * these repeat. What photographs add to groups that lie on different ones, and cannot be estimated, is what they state:
 * sum over photographs of (share in one group - share in the other)^2 (u^2 + p^2), u of the coupons, which they may share,
 * and p of the photograph.
 *
 * @param byExposure exposures are the groups themselves
 * @param observations at least one
 * @returns the comparison, or a refusal of `fitMixedModel`
 * @see B. L. Welch, Biometrika 34 (1947) 28 and F. E. Satterthwaite, Biometrics 2 (1946) 110 [from memory]; GUM G.4.1
 */
export function compareGroups(observations: readonly Observation[], byExposure = false): Outcome<GroupComparison> {
  const terms = chooseTerms(observations, byExposure)
  const { groups, random, exposureRemoved } = terms
  const counts = groups.map((group) => observations.filter((one) => one.group === group).length)
  const own = observations.map(({ value }) => value)
  const scatter =
    random.length === 0 && !exposureRemoved && counts.every((n) => n >= 2)
      ? welch(observations, groups)
      : observations.length > terms.design[0]!.length
        ? modelled(terms, own)
        : stated(observations, groups)
  if (!scatter.ok) return scatter
  const { method, contrast, sources } = scatter.value

  // One coupon a group: its own stated uncertainty is in its mean already.
  const photos =
    method === 'stated'
      ? photoShares(observations, groups, ({ photoUncertainty }) => photoUncertainty)
      : terms.photoStated
        ? photoShares(observations, groups, (one) => Math.hypot(one.standardUncertainty, one.photoUncertainty))
        : []
  const statedVariance = (weights: readonly number[]) =>
    photos.reduce((sum, { shares, variance }) => {
      const share = shares.reduce((total, one, i) => total + one * weights[i]!, 0)
      return sum + share ** 2 * variance
    }, 0)
  const at = (weights: readonly number[]) => {
    const found = contrast(weights)
    const extra = statedVariance(weights)
    const { standardUncertainty, degreesOfFreedom } = combineUncertainty([
      found,
      { standardUncertainty: Math.sqrt(extra) },
    ])
    return {
      estimate: makeEstimate(found.value, standardUncertainty, degreesOfFreedom),
      scatterVariance: found.standardUncertainty ** 2,
      statedVariance: extra,
    }
  }
  const unit = (i: number) => groups.map((_, j) => (i === j ? 1 : 0))
  const pairs = groups.flatMap((_, i) => groups.slice(i + 1).map((_, j) => [i, i + 1 + j] as const))
  return {
    ok: true,
    value: {
      method,
      terms,
      sources,
      groups: groups.map((group, i) => {
        const mine = observations.filter((one) => one.group === group)
        return {
          group,
          coupons: new Set(mine.map(({ coupon }) => coupon)).size,
          photos: new Set(mine.map(({ photo }) => photo)).size,
          mean: at(unit(i)).estimate,
        }
      }),
      differences: pairs.map((pair) => {
        const weights = groups.map((_, g) => (g === pair[1] ? 1 : g === pair[0] ? -1 : 0))
        const { estimate: difference, ...parts } = at(weights)
        return { pair, difference, ...parts }
      }),
    },
  }
}

interface Scatter {
  readonly method: Method
  readonly sources: GroupComparison['sources']
  /** Combination of the groups' means, shape (groups). */
  readonly contrast: (weights: readonly number[]) => Estimate
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

function combine(means: readonly Estimate[]): Scatter['contrast'] {
  return (weights) => {
    const value = means.reduce((sum, one, i) => sum + weights[i]! * one.value, 0)
    const { standardUncertainty, degreesOfFreedom } = combineUncertainty(
      means.map((one, i) => ({ ...one, sensitivity: weights[i]! })),
    )
    return makeEstimate(value, standardUncertainty, degreesOfFreedom)
  }
}

function welch(observations: readonly Observation[], groups: readonly string[]): Outcome<Scatter> {
  const means = groups.map((group) => {
    const values = observations.flatMap((one) => (one.group === group ? [one.value] : []))
    const centre = mean(values)
    const variance = values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1)
    return makeEstimate(centre, Math.sqrt(variance / values.length), values.length - 1)
  })
  return { ok: true, value: { method: 'welch', sources: [], contrast: combine(means) } }
}

function modelled({ design, random, groups }: Terms, values: readonly number[]): Outcome<Scatter> {
  const model = fitMixedModel(
    design,
    values,
    random.map(({ levels }) => levels),
  )
  if (!model.ok) return model
  const { contrast, variances, residualVariance } = model.value
  const padding = design[0]!.slice(groups.length).map(() => 0)
  return {
    ok: true,
    value: {
      method: random.length > 0 ? 'mixed' : 'pooled',
      sources: [
        ...random.map(({ term }, i) => ({ source: term, standardDeviation: Math.sqrt(variances[i]!) })),
        { source: 'rest', standardDeviation: Math.sqrt(residualVariance) },
      ],
      contrast: (weights) => contrast([...weights, ...padding]),
    },
  }
}

/** One coupon a group: only its own stated uncertainty, counted for each coupon anew. */
function stated(observations: readonly Observation[], groups: readonly string[]): Outcome<Scatter> {
  const means = groups.map((group) => {
    const only = observations.find((one) => one.group === group)!
    return makeEstimate(only.value, only.standardUncertainty)
  })
  return { ok: true, value: { method: 'stated', sources: [], contrast: combine(means) } }
}

/** Of each photograph: its share in each group's mean, and the variance stated for its coupons. */
function photoShares(
  observations: readonly Observation[],
  groups: readonly string[],
  stated: (observation: Observation) => number,
) {
  const counts = groups.map((group) => observations.filter((one) => one.group === group).length)
  return [...new Set(observations.map(({ photo }) => photo))].map((photo) => {
    const here = observations.filter((one) => one.photo === photo)
    return {
      shares: groups.map((group, i) => here.filter((one) => one.group === group).length / counts[i]!),
      variance: mean(here.map((one) => stated(one) ** 2)),
    }
  })
}
