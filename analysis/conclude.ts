import { fitGrowth, growthAt, type GrowthFit } from './dose/growth-fit.js'
import { describeSurvival, pointOf } from './dose/describe-survival.js'
import type { Neighbour } from './dose/half-step.js'
import { fitPrintThrough } from './dose/print-through.js'
import { suggestExposure } from './dose/suggestion.js'
import { doseRungs, growthWithin, type AnyReadRung, type AnyRung } from './dose-rungs.js'
import type { MeasureOptions, ReadLadder } from './result.js'
import type { Estimate } from './statistics/estimate.js'
import { coverageFactor } from './statistics/quantiles.js'

type Conclusion = Pick<
  ReadLadder,
  'growthFit' | 'penetrationDepthUm' | 'doseToSize' | 'usableRange' | 'survival' | 'suggestion' | 'noSuggestion'
>

const CURVE_POINTS = 60

/**
 * What rungs say together: fit, dose-to-size, usable range, suggestion, penetration depth.
 *
 * Differences between rungs carry the small uncertainty; what shifts them all alike is added to the absolute level only.
 *
 * @param caliperTabs how many caliper readings anchor the growth
 */
export function conclude(rungs: readonly AnyRung[], options: MeasureOptions, caliperTabs = 0): Conclusion {
  const read = rungs.filter((rung): rung is AnyReadRung => 'growthUm' in rung)
  const { rungs: printed, commonUncertaintyUm } = doseRungs(rungs)
  const suggested = suggestExposure(printed, {
    wantedLineUm: options.smallestLineUm,
    wantedSpaceUm: options.smallestSpaceUm,
    prefer: options.prefer ?? 'size',
    toleranceUm: options.toleranceUm,
    timeStepS: options.timeStepS,
    commonUncertaintyUm,
    caliperTabs,
  })
  const fit = fitGrowth(
    read.map((rung) => ({ exposureS: rung.exposureS, growthUm: growthWithin(rung) })),
    { commonUncertaintyUm },
  )
  const depth = fitPrintThrough(
    read.flatMap(({ exposureS, printThroughUm }) => (printThroughUm ? [{ exposureS, printThroughUm }] : [])),
  )
  return {
    ...(fit.ok ? { growthFit: describeFit(fit.value, read) } : {}),
    ...(depth.ok ? { penetrationDepthUm: measured(depth.value) } : {}),
    survival: describeSurvival(rungs.flatMap((rung) => ('isolated' in rung ? rung : []))),
    ...(suggested.ok ? answerOf(suggested.value) : { noSuggestion: noAnswerOf(suggested.refusal) }),
  }
}

type Suggested = Extract<ReturnType<typeof suggestExposure>, { ok: true }>['value']
type NotSuggested = Extract<ReturnType<typeof suggestExposure>, { ok: false }>['refusal']

function answerOf({ doseToSize, usableRange, expectedGrowthUm, ...s }: Suggested): Conclusion {
  return {
    doseToSize: { exposureS: doseToSize.exposureS, intervalS: [...doseToSize.intervalS] },
    ...(usableRange
      ? {
          usableRange: {
            toleranceUm: usableRange.toleranceUm,
            rangeS: [...usableRange.rangeS],
            ...(usableRange.confidentRangeS ? { confidentRangeS: [...usableRange.confidentRangeS] } : {}),
            reachesEnd: { ...usableRange.reachesEnd },
          },
        }
      : {}),
    suggestion: {
      exposureS: s.exposureS,
      intervalS: [...s.intervalS],
      expectedGrowthUm: measured(expectedGrowthUm),
      rule: s.rule,
      ...(s.limits.length > 0 ? { limitedBy: s.limits.map(({ inWords }) => inWords).join('; ') } : {}),
      limits: s.limits.map((limit) => ({ ...limit })),
      halfStep: {
        ...(s.halfStep.lower ? { lower: neighbourOf(s.halfStep.lower) } : {}),
        ...(s.halfStep.higher ? { higher: neighbourOf(s.halfStep.higher) } : {}),
      },
      ...(s.safeSizeUm.line.ok ? { safeLineUm: pointOf(s.safeSizeUm.line.value) } : {}),
      ...(s.safeSizeUm.space.ok ? { safeSpaceUm: pointOf(s.safeSizeUm.space.value) } : {}),
      confidence: s.confidence,
      nextLadder: { exposuresS: [...s.nextLadder.exposuresS], why: s.nextLadder.why },
    },
  }
}

const measured = ({ value, standardUncertainty }: Estimate) => ({ value, standardUncertainty })

const neighbourOf = ({ growthUm, haze, ...rest }: Neighbour) => ({
  ...rest,
  growthUm: measured(growthUm),
  ...(haze ? { haze: measured(haze) } : {}),
})

const noAnswerOf = ({ code, advice, detail, nextLadder }: NotSuggested): NonNullable<Conclusion['noSuggestion']> => ({
  code,
  advice,
  ...(detail === undefined ? {} : { detail }),
  nextLadder: { exposuresS: [...nextLadder.exposuresS], why: nextLadder.why },
})

function describeFit(fit: GrowthFit, read: readonly AnyReadRung[]): NonNullable<Conclusion['growthFit']> {
  const exposures = fit.rungs.map(({ exposureS }) => exposureS)
  const [low, high] = [Math.log(Math.min(...exposures)), Math.log(Math.max(...exposures))]
  return {
    model: fit.chosen.model,
    coefficients: [...fit.chosen.coefficientsUm],
    referenceS: fit.referenceS,
    residualsUm: fit.rungs.map(({ exposureS, residualUm }) => ({
      slot: read.find((rung) => rung.exposureS === exposureS)?.slot ?? 0,
      residualUm,
    })),
    curve: Array.from({ length: CURVE_POINTS }, (_, i) => {
      const exposureS = Math.exp(low + ((high - low) * i) / (CURVE_POINTS - 1))
      const { value, standardUncertainty, degreesOfFreedom } = growthAt(fit, exposureS)
      const half = coverageFactor(degreesOfFreedom) * standardUncertainty
      return { exposureS, growthUm: value, lowUm: value - half, highUm: value + half }
    }),
    degreesOfFreedom: fit.chosen.residualDegreesOfFreedom,
  }
}
