import { refuse, type Outcome } from '../outcome.js'
import { coverageFactor, studentQuantile } from '../statistics/quantiles.js'
import { lastInside } from '../statistics/sign-intervals.js'
import type { RuleAnswer } from './layer-height.js'

/** What a ladder found at one layer height. */
export interface LayerLadder {
  readonly layerUm: number
  /** Dose-to-size, s. */
  readonly exposureS: number
  /** Relative standard uncertainty of it. */
  readonly relativeUncertainty: number
}

/** One rule fitted through ladders at several heights. */
export interface LayerRuleFit {
  readonly rule: RuleAnswer['rule']
  /** Effective penetration depth, um; null when ever clearer resin fits ever better. */
  readonly depthUm: number | null
  /** 95 %, um; null at the upper end: no clarity is too much. */
  readonly depthIntervalUm: readonly [number, number | null]
  /** Exposure at the height asked for, s, with its 95 % interval. */
  readonly exposureS: number
  readonly intervalS: readonly [number, number]
  /** Sum of squared deviations over uncertainties. */
  readonly chiSquared: number
  /** The ladders agree with the rule at 95 %. */
  readonly agrees: boolean
}

export interface LayerLaddersFit {
  readonly bond: LayerRuleFit
  readonly accumulated: LayerRuleFit
  /** Geometric mean of what the agreeing rules say, and the span of their intervals, s. */
  readonly exposureS: number
  readonly intervalS: readonly [number, number]
}

/** Steepest fading considered, 1/um: a depth of 10 um, less than any layer. */
const MOST_FADING = 0.1
const GRID = 600

/**
 * Effective penetration depth from ladders at two layer heights or more, and the exposure at another height.
 *
 * ln t = a + f(h, k), k = 1 / Dp: bond f = h k; accumulated f = ln((1 - exp(-h k)) / k), which is ln h for clear resin.
 * Least squares over a and k, weights 1/u^2. The 95 % interval of the depth holds all k whose chi-squared, a free, is at
 * most 3.84 above the least; that of the exposure all values that some such (a, k) gives, so it is a profile interval too.
 * Uncertainties are taken as independent; what shifts both ladders alike, such as the same ink, cancels from the depth.
 *
 * @returns both fits, or a refusal: `one-layer-height`, `no-rule-fits` when exposures fall with height, say
 * @throws {RangeError} if a height, exposure or uncertainty is not above 0
 */
export function fitLayerLadders(ladders: readonly LayerLadder[], toUm: number): Outcome<LayerLaddersFit> {
  for (const value of [toUm, ...ladders.flatMap((one) => [one.layerUm, one.exposureS, one.relativeUncertainty])]) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`fitLayerLadders needs values above 0, got ${value}`)
  }
  const heights = [...new Set(ladders.map(({ layerUm }) => layerUm))].sort((a, b) => a - b)
  if (heights.length < 2) {
    return refuse('one-layer-height', 'Print a ladder at another layer height.', `all ladders are at ${heights[0]} um`)
  }
  const [bond, accumulated] = [fitRule('bond', ladders, toUm), fitRule('accumulated', ladders, toUm)]
  const agreeing = [bond, accumulated].filter(({ agrees }) => agrees)
  if (agreeing.length === 0) {
    return refuse(
      'no-rule-fits',
      'Check layer heights and exposures; were resin, temperature and lamp the same?',
      `chi-squared ${bond.chiSquared.toFixed(1)} for bond, ${accumulated.chiSquared.toFixed(1)} for accumulated dose`,
    )
  }
  const logs = agreeing.map(({ exposureS }) => Math.log(exposureS))
  return {
    ok: true,
    value: {
      bond,
      accumulated,
      exposureS: Math.exp(logs.reduce((sum, log) => sum + log, 0) / logs.length),
      intervalS: [
        Math.min(...agreeing.map(({ intervalS }) => intervalS[0])),
        Math.max(...agreeing.map(({ intervalS }) => intervalS[1])),
      ],
    },
  }
}

function fitRule(rule: RuleAnswer['rule'], ladders: readonly LayerLadder[], toUm: number): LayerRuleFit {
  const shape = (h: number, k: number) => {
    if (rule === 'bond') return h * k
    return k === 0 ? Math.log(h) : Math.log(-Math.expm1(-h * k) / k)
  }
  const weights = ladders.map(({ relativeUncertainty }) => relativeUncertainty ** -2)
  const total = weights.reduce((sum, w) => sum + w, 0)
  const at = (k: number) => {
    const rest = ladders.map(({ layerUm, exposureS }) => Math.log(exposureS) - shape(layerUm, k))
    const a = rest.reduce((sum, value, i) => sum + weights[i]! * value, 0) / total
    const chiSquared = rest.reduce((sum, value, i) => sum + weights[i]! * (value - a) ** 2, 0)
    return { k, chiSquared, log: a + shape(toUm, k) }
  }
  // Squares crowd the grid where the depth is large.
  const grid = Array.from({ length: GRID + 1 }, (_, i) => at(MOST_FADING * (i / GRID) ** 2))
  const nearest = grid.reduce((best, one, i) => (one.chiSquared < grid[best]!.chiSquared ? i : best), 0)
  const best = minimise(at, grid[Math.max(0, nearest - 1)]!.k, grid[Math.min(GRID, nearest + 1)]!.k)
  const quantile = coverageFactor(undefined) ** 2
  const excess = (k: number) => at(k).chiSquared - best.chiSquared - quantile
  // Chi-squared has one minimum, so what is inside hangs together.
  const edges = [0, MOST_FADING].flatMap((end) => (excess(end) > 0 ? at(lastInside(excess, best.k, end)) : []))
  const inside = [...grid.filter((one) => excess(one.k) <= 0), best, ...edges]
  const reach = (one: typeof best) => Math.sqrt(Math.max(0, best.chiSquared + quantile - one.chiSquared) / total)
  const fading = inside.map(({ k }) => k)
  const least = Math.min(...fading)
  return {
    rule,
    depthUm: best.k > 1e-9 ? 1 / best.k : null,
    depthIntervalUm: [1 / Math.max(...fading), least > 0 ? 1 / least : null],
    exposureS: Math.exp(best.log),
    intervalS: [
      Math.exp(Math.min(...inside.map((one) => one.log - reach(one)))),
      Math.exp(Math.max(...inside.map((one) => one.log + reach(one)))),
    ],
    chiSquared: best.chiSquared,
    agrees: best.chiSquared <= chiSquaredQuantile95(Math.max(1, ladders.length - 2)),
  }
}

/**
 * @see E. B. Wilson, M. M. Hilferty, Proc. Natl. Acad. Sci. 17 (1931) 684 [from memory]: within 0.1 from 1 degree of
 *   freedom on, where it gives 3.75
 */
function chiSquaredQuantile95(degreesOfFreedom: number): number {
  const spread = 2 / (9 * degreesOfFreedom)
  return degreesOfFreedom * (1 - spread + studentQuantile(0.95, Infinity) * Math.sqrt(spread)) ** 3
}

/** Golden section; the function has one minimum between neighbours of a grid point that is least. */
function minimise<T extends { readonly k: number; readonly chiSquared: number }>(
  at: (k: number) => T,
  from: number,
  to: number,
): T {
  const golden = (Math.sqrt(5) - 1) / 2
  let [low, high] = [from, to]
  for (let i = 0; i < 80; i++) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)]
    if (at(a).chiSquared <= at(b).chiSquared) high = b
    else low = a
  }
  const middle = at((low + high) / 2)
  return at(from).chiSquared <= middle.chiSquared ? at(from) : middle
}
