import { fitLine } from '../statistics/line-fit.js'
import { studentQuantile } from '../statistics/quantiles.js'
import type { CurePoint, Curvature } from './cure-point.js'

/** A point of a working curve that is better left out, and what the curve becomes without it. */
export interface PointAdvice {
  readonly index: number
  readonly why: 'soft-gel' | 'outlier' | 'saturated'
  readonly inWords: string
  readonly withoutIt: { readonly penetrationDepthUm: number; readonly criticalDoseMjPerCm2: number }
}

/** Below this many critical doses a gel is so soft that a gauge presses it thin; common practice, no source. */
const SOFT_BELOW = 1.3

/**
 * Which points to drop, and why.
 *
 * - `outlier`: studentised with the fit that leaves it out, a residual beyond the 95 % limit for as many points (Bonferroni)
 * - `soft-gel`: dose below 1.3 Ec
 * - `saturated`: the highest dose, when the curve bends down at 95 % and the point lies below the line of the others
 *
 * @see R. D. Cook, S. Weisberg, Residuals and Influence in Regression (1982) 2.2 for the outlier test [from memory]
 */
export function adviseOnPoints(
  points: readonly CurePoint[],
  { criticalDoseMjPerCm2, curvature }: { readonly criticalDoseMjPerCm2: number; readonly curvature: Curvature },
): PointAdvice[] {
  if (points.length < 5) return []
  const highest = Math.max(...points.map(({ doseMjPerCm2 }) => doseMjPerCm2))
  const limit = studentQuantile(1 - 0.05 / (2 * points.length), points.length - 3)
  const advice = points.flatMap((point, index): PointAdvice[] => {
    const left = lineWithout(points, index)
    if (!left) return []
    const { doseMjPerCm2, depthUm } = point
    const off = depthUm - left.depthAt(doseMjPerCm2)
    const studentised = off / left.spreadAt(doseMjPerCm2)
    const say = (why: PointAdvice['why'], inWords: string) => [{ index, why, inWords, withoutIt: left.curve }]
    const beyond = `${Math.abs(off).toFixed(0)} um ${off < 0 ? 'below' : 'above'} the line of the others`
    if (curvature.verdict === 'saturates' && doseMjPerCm2 === highest && off < 0) {
      return say(
        'saturated',
        `The curve bends, and this highest dose lies ${beyond}: depth no longer follows ln(dose).`,
      )
    }
    if (Math.abs(studentised) > limit)
      return say('outlier', `It lies ${beyond}, more than scatter explains: measure it again.`)
    if (doseMjPerCm2 < SOFT_BELOW * criticalDoseMjPerCm2) {
      return say('soft-gel', `Its dose is under ${SOFT_BELOW} times Ec: so soft a gel is pressed thin by the gauge.`)
    }
    return []
  })
  const urgency = ['outlier', 'saturated', 'soft-gel']
  return advice.sort((a, b) => urgency.indexOf(a.why) - urgency.indexOf(b.why))
}

function lineWithout(points: readonly CurePoint[], index: number) {
  const others = points.filter((_, i) => i !== index)
  const fit = fitLine(
    others.map(({ doseMjPerCm2 }) => Math.log(doseMjPerCm2)),
    others.map(({ depthUm }) => depthUm),
  )
  if (!fit.ok || fit.value.slope.value <= 0) return undefined
  const { slope, intercept, covariance, rss, residualDegreesOfFreedom } = fit.value
  return {
    depthAt: (dose: number) => intercept.value + slope.value * Math.log(dose),
    /** Of a further point's distance from this line. */
    spreadAt: (dose: number) => {
      const x = Math.log(dose)
      const ofLine = intercept.standardUncertainty ** 2 + 2 * x * covariance + (x * slope.standardUncertainty) ** 2
      return Math.sqrt(rss / residualDegreesOfFreedom + ofLine)
    },
    curve: { penetrationDepthUm: slope.value, criticalDoseMjPerCm2: Math.exp(-intercept.value / slope.value) },
  }
}
