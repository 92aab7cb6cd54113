import type { Outcome } from '../outcome.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { rungRangeS, type GrowthFit } from './growth-fit.js'
import type { LogExposureLine } from './log-exposure-line.js'
import type { SurvivalBound } from './survival-bounds.js'

export interface Choice {
  /** s, not yet rounded. */
  readonly exposureS: number
  /** s, exposures that keep the rule; rounding must not leave them. */
  readonly withinS: readonly [number, number]
  readonly chosenBy: 'dose-to-size' | 'survival' | 'clarity'
  /** The rule as a sentence. */
  readonly rule: string
  /** What keeps the exposure from being better, the one that decided first; empty when nothing does. */
  readonly limits: readonly Limit[]
}

/** What limits an exposure. */
export interface Limit {
  readonly by: 'walls' | 'gaps' | 'haze' | 'growth' | 'readings'
  /** Goes on after "limited by". */
  readonly inWords: string
}

export interface ChoiceInput {
  readonly fit: GrowthFit
  readonly doseToSizeS: number
  /** What the wanted features allow. */
  readonly survival: Outcome<readonly SurvivalBound[]>
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
export function chooseExposure({ fit, doseToSizeS, survival, confidentRangeS, haze }: ChoiceInput): Choice {
  const { withinS, limits } = boundBySurvival(fit, survival)
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
          limits: [...limits, ...limitAt(nearestS, survival)],
        }
  if (!haze) return bySize

  const trend = haze.ok ? hazeTrend(haze.value) : 0
  if (trend === 0)
    return withLimit(bySize, 'haze', 'haze, of which these rungs show no trend with exposure to choose by')
  const clearRange = confidentRangeS && intersect(confidentRangeS, withinS)
  if (!clearRange) {
    return withLimit(
      bySize,
      'growth',
      'growth: no exposure is within tolerance with 95 % confidence, so clarity has no say',
    )
  }
  const exposureS = clearRange[trend > 0 ? 0 : 1]
  const direction = trend > 0 ? 'rises' : 'falls'
  return {
    exposureS,
    withinS: clearRange,
    chosenBy: 'clarity',
    rule: 'The clearest exposure that keeps growth within tolerance with 95 % confidence.',
    limits: [
      { by: 'haze', inWords: `haze, which ${direction} with exposure away from dose-to-size` },
      ...limits,
      ...limitAt(exposureS, survival),
    ],
  }
}

function withLimit(choice: Choice, by: Limit['by'], inWords: string): Choice {
  return { ...choice, limits: [...choice.limits, { by, inWords }] }
}

/** 1 if haze rises with exposure at 95 %, -1 if it falls, 0 if the data do not tell. */
function hazeTrend({ line: { slope } }: LogExposureLine): number {
  const shown = Math.abs(slope.value) > coverageFactor(slope.degreesOfFreedom) * slope.standardUncertainty
  return shown ? Math.sign(slope.value) : 0
}

function boundBySurvival(
  fit: GrowthFit,
  survival: Outcome<readonly SurvivalBound[]>,
): { withinS: readonly [number, number]; limits: readonly Limit[] } {
  const rungRange = rungRangeS(fit)
  const unbounded = (inWords: string) => ({ withinS: rungRange, limits: [{ by: 'readings' as const, inWords }] })
  if (!survival.ok) return unbounded(survival.refusal.detail ?? survival.refusal.code)
  const bound = (kind: SurvivalBound['kind']) => survival.value.find((one) => one.kind === kind)?.exposureS
  const within = intersect([bound('line') ?? rungRange[0], bound('space') ?? rungRange[1]], rungRange)
  return within
    ? { withinS: within, limits: [] }
    : unbounded('the wanted features survive only at rungs whose growth could not be read')
}

/** The bound at which an exposure was stopped. */
function limitAt(exposureS: number, survival: Outcome<readonly SurvivalBound[]>): Limit[] {
  const stopped = survival.ok ? survival.value.filter((bound) => bound.exposureS === exposureS) : []
  return stopped.map(({ kind, inWords }) => ({ by: kind === 'line' ? 'walls' : 'gaps', inWords }))
}

function clamp(value: number, [low, high]: readonly [number, number]): number {
  return Math.min(high, Math.max(low, value))
}

function intersect(a: readonly [number, number], b: readonly [number, number]): readonly [number, number] | undefined {
  const both = [Math.max(a[0], b[0]), Math.min(a[1], b[1])] as const
  return both[0] <= both[1] ? both : undefined
}
