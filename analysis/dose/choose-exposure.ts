import type { Outcome } from '../outcome.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { rungRangeS, type GrowthFit } from './growth-fit.js'
import type { LogExposureLine } from './log-exposure-line.js'
import { findSurvivalRange, type SurvivalRung, type WantedFeatures } from './survival-range.js'

export interface Choice {
  /** s, not yet rounded. */
  readonly exposureS: number
  /** s, exposures that keep the rule; rounding must not leave them. */
  readonly withinS: readonly [number, number]
  readonly chosenBy: 'dose-to-size' | 'survival' | 'clarity'
  /** The rule as a sentence. */
  readonly rule: string
  /** What keeps the exposure from being better; empty when nothing does. */
  readonly limits: readonly string[]
}

export interface ChoiceInput {
  readonly fit: GrowthFit
  readonly doseToSizeS: number
  readonly rungs: readonly SurvivalRung[]
  readonly wanted: WantedFeatures
  /** Where growth is within the tolerance with 95 % confidence, s. */
  readonly confidentRangeS: readonly [number, number] | undefined
  /** Haze on ln(exposure); given only when clarity is to be preferred. */
  readonly haze: Outcome<LogExposureLine> | undefined
}

/**
 * Decides between size, survival and clarity.
 *
 * Survival bounds everything; within it clarity, if preferred and shown by the data, chooses the clearest exposure that
 * is surely within tolerance; otherwise dose-to-size, or the exposure nearest to it at which the features survive.
 */
export function chooseExposure({ fit, doseToSizeS, rungs, wanted, confidentRangeS, haze }: ChoiceInput): Choice {
  const { withinS, limits } = boundBySurvival(fit, rungs, wanted)
  const nearestS = clamp(doseToSizeS, withinS)
  const bySize: Choice =
    nearestS === doseToSizeS
      ? {
          exposureS: doseToSizeS,
          withinS,
          chosenBy: 'dose-to-size',
          rule: 'Dose-to-size: the exposure at which lines come out as wide as drawn.',
          limits,
        }
      : {
          exposureS: nearestS,
          withinS,
          chosenBy: 'survival',
          rule: 'The exposure nearest to dose-to-size at which the wanted features survive.',
          limits: [...limits, boundInWords(nearestS, withinS, wanted)],
        }
  if (!haze) return bySize

  const trend = haze.ok ? hazeTrend(haze.value) : 0
  if (trend === 0) {
    return { ...bySize, limits: [...bySize.limits, 'these rungs show no trend of haze with exposure to choose by'] }
  }
  const clearRange = confidentRangeS && intersect(confidentRangeS, withinS)
  if (!clearRange) {
    return { ...bySize, limits: [...bySize.limits, 'no exposure is within tolerance with 95 % confidence'] }
  }
  return {
    exposureS: clearRange[trend > 0 ? 0 : 1],
    withinS: clearRange,
    chosenBy: 'clarity',
    rule: 'The clearest exposure that keeps growth within tolerance with 95 % confidence.',
    limits,
  }
}

/** 1 if haze rises with exposure at 95 %, -1 if it falls, 0 if the data do not tell. */
function hazeTrend({ line: { slope } }: LogExposureLine): number {
  const shown = Math.abs(slope.value) > coverageFactor(slope.degreesOfFreedom) * slope.standardUncertainty
  return shown ? Math.sign(slope.value) : 0
}

function boundBySurvival(
  fit: GrowthFit,
  rungs: readonly SurvivalRung[],
  wanted: WantedFeatures,
): { withinS: readonly [number, number]; limits: readonly string[] } {
  const rungRange = rungRangeS(fit)
  const survival = findSurvivalRange(rungs, wanted)
  if (!survival.ok) return { withinS: rungRange, limits: [survival.refusal.detail ?? survival.refusal.code] }
  const { lineFromS, spaceUpToS } = survival.value
  const within = intersect([lineFromS ?? rungRange[0], spaceUpToS ?? rungRange[1]], rungRange)
  return within
    ? { withinS: within, limits: [] }
    : { withinS: rungRange, limits: ['the wanted features survive only at rungs whose growth could not be read'] }
}

function boundInWords(atS: number, [low]: readonly [number, number], wanted: WantedFeatures): string {
  return atS === low
    ? `lines of ${wanted.wantedLineUm} um stand only from ${atS} s up`
    : `spaces of ${wanted.wantedSpaceUm} um stay open only up to ${atS} s`
}

function clamp(value: number, [low, high]: readonly [number, number]): number {
  return Math.min(high, Math.max(low, value))
}

function intersect(a: readonly [number, number], b: readonly [number, number]): readonly [number, number] | undefined {
  const both = [Math.max(a[0], b[0]), Math.min(a[1], b[1])] as const
  return both[0] <= both[1] ? both : undefined
}
