import { geometricMean } from 'simple-statistics'
import { refuse, type Outcome } from '../outcome.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { fitLogistic, logistic, type LogisticFit, type Trials } from '../statistics/logistic.js'
import { quadraticForm } from '../statistics/quadratic-form.js'

export type FeatureKind = 'line' | 'space'

/** Whether one isolated line stood, or one space stayed open. */
export interface SurvivalObservation {
  readonly exposureS: number
  /** As drawn, um. */
  readonly nominalUm: number
  readonly survives: boolean
}

/** logit(chance) = b0 + b1 ln(size / referenceUm) + b2 ln(exposure / referenceS) */
export interface SurvivalModel {
  readonly kind: FeatureKind
  readonly fit: LogisticFit
  readonly trials: readonly Trials[]
  readonly referenceS: number
  readonly referenceUm: number
  /** Lowest and highest exposure, s, and narrowest and widest size, um, that were looked at. */
  readonly rangeS: readonly [number, number]
  readonly rangeUm: readonly [number, number]
  /** Every size looked at, um, ascending. */
  readonly sizesUm: readonly number[]
}

/** An exposure or size at which features survive with a stated chance. */
export interface SurvivalPoint {
  readonly value: number
  /** 95 %, cut at the outermost rungs or sizes. */
  readonly interval: readonly [number, number]
  /** Ends at which the interval was cut; it may go on where nothing was printed. */
  readonly reachesEnd: { readonly low: boolean; readonly high: boolean }
}

/** Lines need exposure, spaces lose by it. */
const EXPOSURE_HELPS = { line: 1, space: -1 } as const
/** Steps of the search for an interval's end, in Wald standard uncertainties. */
const STEP = 0.5
const CLOSE_ENOUGH = 1e-8

/**
 * Chance that a line stands, or a space stays open, by its size and the exposure: Firth's penalised logistic regression
 * on ln(size) and ln(exposure).
 *
 * Takes the features as independent of each other given size and exposure, and exposures and sizes as exact. Sharp
 * thresholds, at which every wider feature survives and every narrower one fails, are no trouble: see `fitLogistic`.
 *
 * @returns the model, or a refusal: `all-survive`, `none-survives` when there is no failure or no survivor to learn from,
 *   `too-few-sizes-or-rungs` below two different sizes or exposures, `larger-fails-sooner` when survival falls with size
 * @throws {RangeError} if a size or exposure is not above 0
 */
export function fitSurvival(kind: FeatureKind, observations: readonly SurvivalObservation[]): Outcome<SurvivalModel> {
  for (const { exposureS, nominalUm } of observations) {
    if (!(exposureS > 0 && nominalUm > 0)) {
      throw new RangeError(`fitSurvival needs exposures and sizes above 0, got ${exposureS} s, ${nominalUm} um`)
    }
  }
  const exposures = observations.map(({ exposureS }) => exposureS)
  const sizes = observations.map(({ nominalUm }) => nominalUm)
  if (new Set(exposures).size < 2 || new Set(sizes).size < 2) {
    return refuse(
      'too-few-sizes-or-rungs',
      'Print at least two exposures and photograph their narrow lines and spaces sharply.',
      `${new Set(sizes).size} sizes at ${new Set(exposures).size} exposures were read`,
    )
  }
  const rangeS = [Math.min(...exposures), Math.max(...exposures)] as const
  const sizesUm = [...new Set(sizes)].sort((a, b) => a - b)
  const rangeUm = [sizesUm[0]!, sizesUm.at(-1)!] as const
  const survivors = observations.filter(({ survives }) => survives).length
  if (survivors === observations.length || survivors === 0) {
    return refuse(
      survivors === 0 ? 'none-survives' : 'all-survive',
      survivors === 0
        ? `Print ${kind === 'line' ? 'higher' : 'lower'} exposures.`
        : 'Nothing to do: only narrower ones would show the limit.',
      `${survivors} of ${observations.length} ${kind}s from ${rangeUm[0]} to ${rangeUm[1]} um survived`,
    )
  }
  const referenceS = geometricMean(exposures)
  const referenceUm = geometricMean(sizes)
  const trials = observations.map(({ exposureS, nominalUm, survives }) => ({
    x: [1, Math.log(nominalUm / referenceUm), Math.log(exposureS / referenceS)],
    trials: 1,
    successes: survives ? 1 : 0,
  }))
  const fit = fitLogistic(trials)
  if (!fit.ok) return fit
  if (fit.value.coefficients[1]! <= 0) {
    return refuse(
      'larger-fails-sooner',
      'Look at the photograph: wide features that failed beside narrow ones that survived point to damage or dirt.',
      `survival of ${kind}s falls with their size`,
    )
  }
  return { ok: true, value: { kind, fit: fit.value, trials, referenceS, referenceUm, rangeS, rangeUm, sizesUm } }
}

/** Chance of survival, 0 to 1; the model speaks only for sizes and exposures between those printed. */
export function survivalChance(model: SurvivalModel, nominalUm: number, exposureS: number): number {
  const [b0, b1, b2] = model.fit.coefficients as [number, number, number]
  return logistic(b0 + b1 * Math.log(nominalUm / model.referenceUm) + b2 * Math.log(exposureS / model.referenceS))
}

/**
 * Exposure at which features of one size survive with a stated chance (ED50 for 0.5, ED95 for 0.95), with its 95 %
 * interval from the profile of the penalised likelihood.
 *
 * @returns the exposure, or a refusal: `survives-throughout`, `survives-nowhere` when the chance is above, or below, the
 *   stated one at every rung; `no-trend-with-exposure` when lines do not gain, or spaces do not lose, by exposure
 */
export function exposureForSurvival(
  model: SurvivalModel,
  { nominalUm, chance }: { readonly nominalUm: number; readonly chance: number },
): Outcome<SurvivalPoint> {
  const { kind, rangeS, referenceS, referenceUm } = model
  const [b0, b1, b2] = model.fit.coefficients as [number, number, number]
  const favour = EXPOSURE_HELPS[kind]
  if (b2 * favour <= 0) {
    return refuse(
      'no-trend-with-exposure',
      'Print a ladder over a wider range of exposures.',
      `survival of ${kind}s does not ${favour > 0 ? 'rise' : 'fall'} with exposure`,
    )
  }
  const size = Math.log(nominalUm / referenceUm)
  const atEnds = rangeS.map((exposureS) => survivalChance(model, nominalUm, exposureS))
  const outside = refuseOutside(atEnds, chance, `${kind}s of ${nominalUm} um`, 'between the rungs')
  if (outside) return outside
  const place = (logit(chance) - b0 - b1 * size) / b2
  return {
    ok: true,
    value: pointOf(model, chance, (theta) => [1, size, theta], place, rangeS, referenceS),
  }
}

/**
 * Size from which features survive with a stated chance at one exposure, with its 95 % interval from the profile of the
 * penalised likelihood.
 *
 * @returns the size, um, or a refusal: `survives-throughout` when even the narrowest printed does, `survives-nowhere`
 *   when not even the widest does
 */
export function sizeForSurvival(
  model: SurvivalModel,
  { exposureS, chance }: { readonly exposureS: number; readonly chance: number },
): Outcome<SurvivalPoint> {
  const size = smallestSurvivor(model, { exposureS, chance })
  if (!size.ok) return size
  const { rangeUm, referenceS, referenceUm } = model
  const exposure = Math.log(exposureS / referenceS)
  const place = Math.log(size.value / referenceUm)
  return {
    ok: true,
    value: pointOf(model, chance, (theta) => [1, theta, exposure], place, rangeUm, referenceUm),
  }
}

/** The size of `sizeForSurvival` alone, um, without the search for its interval. */
export function smallestSurvivor(
  model: SurvivalModel,
  { exposureS, chance }: { readonly exposureS: number; readonly chance: number },
): Outcome<number> {
  const { kind, rangeUm, referenceS, referenceUm } = model
  const [b0, b1, b2] = model.fit.coefficients as [number, number, number]
  const atEnds = rangeUm.map((nominalUm) => survivalChance(model, nominalUm, exposureS))
  const outside = refuseOutside(atEnds, chance, `${kind}s at ${exposureS} s`, `from ${rangeUm[0]} to ${rangeUm[1]} um`)
  if (outside) return outside
  const place = (logit(chance) - b0 - b2 * Math.log(exposureS / referenceS)) / b1
  return { ok: true, value: Math.exp(place) * referenceUm }
}

function refuseOutside(atEnds: readonly number[], chance: number, what: string, where: string) {
  const percent = `${Math.round(100 * chance)} %`
  if (Math.min(...atEnds) >= chance) {
    return refuse('survives-throughout', 'Nothing to do.', `${what} survive with ${percent} or more ${where}`)
  }
  if (Math.max(...atEnds) < chance) {
    return refuse('survives-nowhere', 'Draw it wider.', `${what} survive with less than ${percent} ${where}`)
  }
  return undefined
}

/**
 * Profile interval of theta, where the constraint weights(theta) . b = logit(chance) holds: all theta at which twice the
 * loss of penalised log-likelihood, the other coefficients free, stays below the 95 % quantile of chi-squared(1).
 *
 * @see G. Heinze, M. Schemper, Stat. Med. 21 (2002) 2409, section 2 [from memory]
 */
function pointOf(
  model: SurvivalModel,
  chance: number,
  weights: (theta: number) => readonly number[],
  place: number,
  range: readonly [number, number],
  reference: number,
): SurvivalPoint {
  const quantile = coverageFactor(undefined) ** 2
  // One place's best coefficients are near the next one's.
  let start = model.fit.coefficients
  const excess = (theta: number) => {
    const profile = fitLogistic(model.trials, { fixed: { weights: weights(theta), value: logit(chance) }, start })
    if (!profile.ok) return Infinity
    start = profile.value.coefficients
    return 2 * (model.fit.logLikelihood - profile.value.logLikelihood) - quantile
  }
  const w = weights(place)
  const { covariance, coefficients } = model.fit
  const spread = Math.sqrt(quadraticForm(covariance, w))
  const sensitivity = weights(place + 1).reduce((sum, wi, i) => sum + (wi - w[i]!) * coefficients[i]!, 0)
  const step = (STEP * spread) / Math.abs(sensitivity)
  const [low, high] = range.map((end) => crossing(excess, place, Math.log(end / reference), step)) as [number?, number?]
  return {
    value: Math.exp(place) * reference,
    interval: [
      low === undefined ? range[0] : Math.exp(low) * reference,
      high === undefined ? range[1] : Math.exp(high) * reference,
    ],
    reachesEnd: { low: low === undefined, high: high === undefined },
  }
}

/**
 * First place on the way from `inside` to `end` where f turns positive; undefined when it does not. Steps, then false
 * position with halved ends ("Illinois").
 */
function crossing(f: (x: number) => number, inside: number, end: number, step: number): number | undefined {
  const steps = Math.max(1, Math.ceil(Math.abs(end - inside) / step))
  const at = (i: number) => inside + ((end - inside) * i) / steps
  let low = { x: inside, f: f(inside) }
  for (let i = 1; i <= steps; i++) {
    let high = { x: at(i), f: f(at(i)) }
    if (high.f <= 0) {
      low = high
      continue
    }
    for (let kept = 0; Math.abs(high.x - low.x) > CLOSE_ENOUGH;) {
      const share = high.f === Infinity ? 0.5 : low.f / (low.f - high.f)
      const x = low.x + share * (high.x - low.x)
      const next = { x, f: f(x) }
      if (Math.abs(next.f) < CLOSE_ENOUGH) return x
      if (next.f <= 0) {
        low = next
        if (kept === 1) high = { ...high, f: high.f / 2 }
        kept = 1
      } else {
        high = next
        if (kept === -1) low = { ...low, f: low.f / 2 }
        kept = -1
      }
    }
    return low.x
  }
  return undefined
}

const logit = (chance: number) => Math.log(chance / (1 - chance))
