import type { Outcome } from '../outcome.js'
import { seconds } from './dose-to-size.js'
import type { ExposureTrend } from './exposure-trend.js'
import { rungRangeS, type GrowthFit } from './growth-fit.js'
import type { Limit } from './limit.js'
import type { SurvivalBound } from './survival-bounds.js'
import { boundByYellowness } from './yellowness-bound.js'

export interface Choice {
  /** s, not yet rounded. */
  readonly exposureS: number
  /** s, exposures that keep the rule; rounding must not leave them. */
  readonly withinS: readonly [number, number]
  readonly chosenBy: 'dose-to-size' | 'survival' | 'yellowness' | 'clarity'
  /** The rule as a sentence. */
  readonly rule: string
  /** What keeps the exposure from being better, the one that decided first; empty when nothing does. */
  readonly limits: readonly Limit[]
}

export interface ChoiceInput {
  readonly fit: GrowthFit
  readonly doseToSizeS: number
  /** What the wanted features allow. */
  readonly survival: Outcome<readonly SurvivalBound[]>
  /** Where growth is within the tolerance with 95 % confidence, s. */
  readonly confidentRangeS: readonly [number, number] | undefined
  /** Trend of haze; given only when clarity is to be preferred. */
  readonly haze: Outcome<ExposureTrend> | undefined
  /** Trend of yellowness per mm, and the most of it that is wanted; given only when there is such a limit. */
  readonly yellowness?: { readonly trend: Outcome<ExposureTrend>; readonly mostPerMm: number } | undefined
}

/**
 * Decides between size, survival and clarity.
 *
 * Survival bounds everything, then a limit of yellowness; within both clarity, if preferred and shown by the data, chooses
 * the exposure of least haze that is surely within tolerance; otherwise dose-to-size, or the exposure nearest to it that
 * the bounds allow.
 */
export function chooseExposure({ fit, doseToSizeS, survival, confidentRangeS, haze, yellowness }: ChoiceInput): Choice {
  const bySurvival = boundBySurvival(fit, survival)
  const pale = yellowness && boundByYellowness(yellowness, bySurvival.withinS, doseToSizeS)
  const withinS = pale?.withinS ?? bySurvival.withinS
  const limits = [...bySurvival.limits, ...(pale?.limits ?? [])]
  const stops = (exposureS: number) => [...limitAt(exposureS, survival), ...(pale?.limitAt(exposureS) ?? [])]
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
          ...(limitAt(nearestS, survival).length > 0 || !pale
            ? {
                chosenBy: 'survival',
                rule: 'The exposure nearest to dose-to-size at which the wanted features survive.',
              }
            : {
                chosenBy: 'yellowness',
                rule: 'The exposure nearest to dose-to-size at which yellowness is expected to keep its limit.',
              }),
          limits: [...limits, ...stops(nearestS)],
        }
  if (!haze) return bySize

  if (!haze.ok || haze.value.verdict === 'no-trend')
    return withLimit(bySize, 'haze', 'haze, of which these rungs show no trend with exposure to choose by')
  const clearRange = confidentRangeS && intersect(confidentRangeS, withinS)
  if (!clearRange) {
    return withLimit(
      bySize,
      'growth',
      'growth: no exposure is within tolerance with 95 % confidence, so clarity has no say',
    )
  }
  const exposureS = clearestOf(haze.value, clearRange)
  return {
    exposureS,
    withinS: clearRange,
    chosenBy: 'clarity',
    rule: 'The clearest exposure that keeps growth within tolerance with 95 % confidence.',
    limits: [{ by: 'haze', inWords: hazeInWords(haze.value) }, ...limits, ...stops(exposureS)],
  }
}

function withLimit(choice: Choice, by: Limit['by'], inWords: string): Choice {
  return { ...choice, limits: [...choice.limits, { by, inWords }] }
}

/** Exposure of least haze within a range: an end of it, or the least of the trend where the data show one. */
function clearestOf(trend: ExposureTrend, range: readonly [number, number]): number {
  const haze = (exposureS: number) => trend.at(clamp(exposureS, trend.rangeS)).value
  return [...range, ...(trend.least ? [clamp(trend.least.exposureS, range)] : [])].reduce((a, b) =>
    haze(b) < haze(a) ? b : a,
  )
}

function hazeInWords({ verdict, least }: ExposureTrend): string {
  if (least) return `haze, which is least near ${seconds(least.exposureS)}`
  if (verdict === 'bends') return 'haze, which rises and falls again with exposure'
  return `haze, which ${verdict} with exposure away from dose-to-size`
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
