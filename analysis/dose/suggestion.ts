import type { Outcome, Refusal } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import { chooseExposure, type Choice } from './choose-exposure.js'
import type { GrowthRung } from './coupon-readings.js'
import { confidenceBasis, describeConfidence, type ConfidenceBasis } from './confidence.js'
import { covers } from './exposure-trend.js'
import { findDoseToSize, findExposureInterval, type DoseToSize } from './dose-to-size.js'
import { evaluateGrowth, fitGrowth, growthAt, type GrowthFit } from './growth-fit.js'
import type { Limit } from './limit.js'
import { openerLadder, repeatLadder, shiftedLadder, widerLadder, type NextLadder } from './next-ladder.js'
import { halfStepAbout, type HalfStep } from './half-step.js'
import { findSurvivalBounds, fitSurvivals, SAFE_CHANCE, type SurvivalModels } from './survival-bounds.js'
import { sizeForSurvival, type FeatureKind, type SurvivalPoint } from './survival-model.js'
import { narrowestAt, type Narrowest, type SurvivalRung, type WantedFeatures } from './survival-range.js'
import { roundToStep } from './time-step.js'
import { sharpeningLadder, type SharpeningLadder } from './sharpen-ladder.js'
import { findUsableRange, type UsableRange } from './usable-range.js'
import { fitWindowTrend } from './window-trend.js'

/** All that one rung says; what could not be read is left out. */
export interface LadderRung extends SurvivalRung, Omit<GrowthRung, 'growthUm'> {
  /** As in `GrowthRung`. */
  readonly growthUm?: Estimate | undefined
  /** The coupon could not be read because print-through had closed its grooves. */
  readonly closed?: boolean | undefined
  /** Our relative haze index. */
  readonly haze?: Estimate | undefined
  /** log10(red / blue) per mm. */
  readonly yellownessPerMm?: Estimate | undefined
}

export interface SuggestionOptions extends WantedFeatures {
  /** Growth allowed per side, um. Default 20. */
  readonly toleranceUm?: number
  /** The printer's smallest step of layer exposure, s. Default 0.1. */
  readonly timeStepS?: number
  /** See `GrowthFitOptions`. Default 0. */
  readonly commonUncertaintyUm?: number
  /** How many caliper readings anchor the growth, to be said with the confidence. Default 0. */
  readonly caliperTabs?: number
  /**
   * What to prefer within the tolerance. Default `size`: dose-to-size. `clarity`: the clearest end of the confident
   * range, if the rungs show a trend of haze with exposure at 95 %; otherwise dose-to-size.
   */
  readonly prefer?: 'size' | 'clarity'
  /** Most yellowness wanted, log10(red / blue) per mm. Default: no limit. */
  readonly mostYellownessPerMm?: number | undefined
}

export interface Suggestion {
  /** s, a whole number of time steps between the rungs. */
  readonly exposureS: number
  /**
   * 95 %, s. By `dose-to-size` the interval of dose-to-size itself, which rounding may leave when it is narrower than a
   * step; else the exposures that may in truth give the growth expected here.
   */
  readonly intervalS: readonly [number, number]
  readonly chosenBy: Choice['chosenBy']
  /** The rule as a sentence. */
  readonly rule: string
  /** What keeps the exposure from being better, the one that decided first; empty when nothing does. */
  readonly limits: readonly Limit[]
  /** Half a time step either way. */
  readonly halfStep: HalfStep
  /** Models of survival, and the size of each kind that survives here with 95 % chance, or why there is none. */
  readonly survival: SurvivalModels
  readonly safeSizeUm: Readonly<Record<FeatureKind, Outcome<SurvivalPoint>>>
  /** Absolute growth per side expected at `exposureS`. */
  readonly expectedGrowthUm: Estimate
  /** Growth that one time step more adds per side, um. */
  readonly growthPerStepUm: number
  /** Narrowest line and space that the rungs on both sides of `exposureS` show; see `narrowestAt`. */
  readonly narrowest: Narrowest
  /** Haze and yellowness expected at `exposureS`, when it lies between three rungs or more where they were read. */
  readonly expectedHaze?: Estimate
  readonly expectedYellownessPerMm?: Estimate
  /** How sure, and whether a caliper anchors it. */
  readonly confidence: string
  readonly confidenceBasis: ConfidenceBasis
  readonly fit: GrowthFit
  readonly doseToSize: DoseToSize
  /** Absent when no exposure between the rungs is within the tolerance. */
  readonly usableRange?: UsableRange
  /** The rungs that would shrink the interval most. */
  readonly nextLadder: SharpeningLadder
}

/** Why no exposure can be suggested, and what to print instead. */
export interface NoSuggestion extends Refusal {
  readonly nextLadder: NextLadder
}
export type SuggestionOutcome =
  { readonly ok: true; readonly value: Suggestion } | { readonly ok: false; readonly refusal: NoSuggestion }

/**
 * The exposure to use, from the rungs of one ladder.
 *
 * Rule: dose-to-size; moved to the nearest exposure at which the wanted line and space survive and a limit of yellowness
 * is kept; with
 * `prefer: 'clarity'` the clearest end of the exposures that are within tolerance with 95 % confidence; rounded to the
 * time step, inwards where a bound decided. Nothing is suggested beyond the rungs.
 *
 * @param rungs every rung printed, also those that could not be read
 * @returns the suggestion, or a refusal with the ladder to print next: `too-few-rungs` below three readable exposures,
 *   `all-closed` when print-through closed every coupon, or `flat`, `wrong-sign`, `not-bracketed-low`, `not-bracketed-high` as in `findDoseToSize`
 * @throws {RangeError} for no rungs at all, or for a value out of the range its field states
 */
export function suggestExposure(rungs: readonly LadderRung[], options: SuggestionOptions = {}): SuggestionOutcome {
  const { toleranceUm = 20, timeStepS = 0.1, commonUncertaintyUm = 0, caliperTabs = 0, prefer = 'size' } = options
  const { mostYellownessPerMm } = options
  if (rungs.length === 0) throw new RangeError('suggestExposure needs at least one rung, got 0')

  const readable = rungs.flatMap(({ growthUm, ...rung }) => (growthUm ? [{ ...rung, growthUm }] : []))
  const growth = fitGrowth(readable, { commonUncertaintyUm })
  if (!growth.ok) return { ok: false, refusal: tooFewRead(growth.refusal, rungs, timeStepS) }
  const fit = growth.value
  const size = findDoseToSize(fit)
  if (!size.ok) {
    return {
      ok: false,
      refusal: { ...size.refusal, nextLadder: ladderAfter(size.refusal.code, fit, rungs, timeStepS) },
    }
  }
  const usable = findUsableRange(fit, { toleranceUm })
  const usableRange = usable.ok ? usable.value : undefined
  const haze = fitWindowTrend(rungs, 'haze')
  const yellowness = fitWindowTrend(rungs, 'yellownessPerMm')
  const survival = fitSurvivals(rungs)
  const choice = chooseExposure({
    fit,
    doseToSizeS: size.value.exposureS,
    survival: findSurvivalBounds(rungs, survival, options),
    confidentRangeS: usableRange?.confidentRangeS,
    haze: prefer === 'clarity' ? haze : undefined,
    yellowness: mostYellownessPerMm === undefined ? undefined : { trend: yellowness, mostPerMm: mostYellownessPerMm },
  })

  const printed = fit.rungs.map((rung) => rung.exposureS)
  const exposureS = roundToStep(choice.exposureS, { timeStepS, withinS: choice.withinS, printedS: printed })
  const interval = choice.chosenBy === 'dose-to-size' ? size.value : findExposureInterval(fit, exposureS)
  const expectedGrowthUm = growthAt(fit, exposureS)
  const { slopeUm } = evaluateGrowth(fit.chosen, Math.log(exposureS / fit.referenceS))
  const tooBig = Math.abs(expectedGrowthUm.value) > toleranceUm
  const sureness = { exposureS, interval, fit, timeStepS, aim: choice.chosenBy, caliperTabs }
  const safe = (kind: FeatureKind) => {
    const model = survival[kind]
    return model.ok ? sizeForSurvival(model.value, { exposureS, chance: SAFE_CHANCE }) : model
  }
  return {
    ok: true,
    value: {
      exposureS,
      intervalS: interval.intervalS,
      chosenBy: choice.chosenBy,
      rule: choice.rule,
      limits: [
        ...choice.limits,
        ...(tooBig
          ? [{ by: 'growth' as const, inWords: `growth, which exceeds the tolerance of ${toleranceUm} um` }]
          : []),
      ],
      halfStep: halfStepAbout({ exposureS, timeStepS, fit, survival, haze: haze.ok ? haze.value : undefined }),
      survival,
      safeSizeUm: { line: safe('line'), space: safe('space') },
      expectedGrowthUm,
      narrowest: narrowestAt(rungs, exposureS),
      growthPerStepUm: (slopeUm * timeStepS) / exposureS,
      ...(haze.ok && covers(haze.value, exposureS) ? { expectedHaze: haze.value.at(exposureS) } : {}),
      ...(yellowness.ok && covers(yellowness.value, exposureS)
        ? { expectedYellownessPerMm: yellowness.value.at(exposureS) }
        : {}),
      confidence: describeConfidence(sureness),
      confidenceBasis: confidenceBasis(sureness),
      fit,
      doseToSize: size.value,
      ...(usableRange ? { usableRange } : {}),
      nextLadder: sharpeningLadder(fit, size.value.exposureS, { timeStepS }),
    },
  }
}

function tooFewRead(refusal: Refusal, rungs: readonly LadderRung[], timeStepS: number): NoSuggestion {
  const printedS = rungs.map(({ exposureS }) => exposureS)
  const closedS = rungs.flatMap(({ exposureS, closed }) => (closed ? [exposureS] : []))
  if (closedS.length === 0) return { ...refusal, nextLadder: repeatLadder(printedS, timeStepS) }
  return {
    code: closedS.length === rungs.length ? 'all-closed' : refusal.code,
    advice: 'Print lower exposures: print-through has closed the grooves.',
    detail: `${closedS.length} of ${rungs.length} coupons closed, the lowest at ${Math.min(...closedS)} s`,
    nextLadder: openerLadder(closedS, printedS, timeStepS),
  }
}

function ladderAfter(code: string, fit: GrowthFit, rungs: readonly LadderRung[], timeStepS: number): NextLadder {
  if (code === 'not-bracketed-low') return shiftedLadder(fit, 'low', timeStepS)
  if (code === 'not-bracketed-high') return shiftedLadder(fit, 'high', timeStepS)
  if (code === 'flat') return widerLadder(fit, timeStepS)
  return repeatLadder(
    rungs.map(({ exposureS }) => exposureS),
    timeStepS,
  )
}
