import type { AnyReadRung } from '../dose-rungs.js'
import type { WindowTrend } from '../result.js'
import { stated } from '../statistics/estimate.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { fitWindowTrend } from './window-trend.js'

const POINTS = 30

/** Trends of haze and yellowness with exposure, each where three exposures or more show it. */
export function describeTrends(rungs: readonly AnyReadRung[]): WindowTrend[] {
  return (['haze', 'yellownessPerMm'] as const).flatMap((of) => {
    const trend = fitWindowTrend(rungs, of)
    if (!trend.ok) return []
    const { model, verdict, change, least, at, rangeS } = trend.value
    const span = Math.log(rangeS[1] / rangeS[0])
    return [
      {
        of,
        model,
        verdict,
        change: stated(change),
        ...(least && { least: { exposureS: least.exposureS, intervalS: [...least.intervalS] as [number, number] } }),
        curve: Array.from({ length: POINTS }, (_, i) => {
          const exposureS = rangeS[0] * Math.exp((span * i) / (POINTS - 1))
          const { value, standardUncertainty, degreesOfFreedom } = at(exposureS)
          const half = coverageFactor(degreesOfFreedom) * standardUncertainty
          return { exposureS, value, low: value - half, high: value + half }
        }),
      },
    ]
  })
}
