import { describeDoseToSize, describeGrowthFit, describeUsableRange } from './describe-growth.js'
import { fitGrowth } from './dose/growth-fit.js'
import { describeTrends } from './dose/describe-trends.js'
import { describeSurvival, pointOf } from './dose/describe-survival.js'
import type { Neighbour } from './dose/half-step.js'
import { fitPrintThrough } from './dose/print-through.js'
import { suggestExposure } from './dose/suggestion.js'
import { doseRungs, growthRungOf, type AnyReadRung, type AnyRung } from './dose-rungs.js'
import { concludeProcess } from './finish/conclude-process.js'
import type { LadderDesign } from './layout/schema.js'
import type { MeasureOptions, ReadLadder } from './result.js'
import { stated } from './statistics/estimate.js'

type Conclusion = Pick<
  ReadLadder,
  | 'growthFit'
  | 'penetrationDepthUm'
  | 'windowTrends'
  | 'doseToSize'
  | 'usableRange'
  | 'survival'
  | 'suggestion'
  | 'noSuggestion'
  | 'process'
>

/** What rungs say together, by what they differ in. @param caliperTabs see `concludeExposures` */
export function conclude(
  design: LadderDesign,
  rungs: readonly AnyRung[],
  options: MeasureOptions,
  caliperTabs = 0,
): Conclusion {
  const { factor, levels } = design
  return factor === undefined || levels === undefined
    ? concludeExposures(rungs, options, caliperTabs)
    : { process: concludeProcess({ ...design, factor, levels }, rungs) }
}

/**
 * What rungs of several exposures say: fit, dose-to-size, usable range, suggestion, penetration depth.
 *
 * Differences between rungs carry the small uncertainty; what shifts them all alike is added to the absolute level only.
 *
 * @param caliperTabs how many caliper readings anchor the growth
 */
function concludeExposures(rungs: readonly AnyRung[], options: MeasureOptions, caliperTabs: number): Conclusion {
  const read = rungs.filter((rung): rung is AnyReadRung => 'growthUm' in rung)
  const { rungs: printed, commonUncertaintyUm } = doseRungs(rungs, options.turnedSlots)
  const suggested = suggestExposure(printed, {
    wantedLineUm: options.smallestLineUm,
    wantedSpaceUm: options.smallestSpaceUm,
    prefer: options.prefer ?? 'size',
    mostYellownessPerMm: options.mostYellownessPerMm,
    toleranceUm: options.toleranceUm,
    timeStepS: options.timeStepS,
    commonUncertaintyUm,
    caliperTabs,
  })
  const fit = suggested.ok
    ? ({ ok: true, value: suggested.value.fit } as const)
    : fitGrowth(
        read.map((rung) => growthRungOf(rung, options.turnedSlots)),
        { commonUncertaintyUm },
      )
  const depth = fitPrintThrough(
    read.flatMap(({ exposureS, printThroughUm }) => (printThroughUm ? [{ exposureS, printThroughUm }] : [])),
  )
  return {
    ...(fit.ok ? { growthFit: describeGrowthFit(fit.value) } : {}),
    ...(depth.ok ? { penetrationDepthUm: stated(depth.value) } : {}),
    windowTrends: describeTrends(read),
    survival: describeSurvival(rungs.flatMap((rung) => ('isolated' in rung ? rung : []))),
    ...(suggested.ok ? answerOf(suggested.value) : { noSuggestion: noAnswerOf(suggested.refusal) }),
  }
}

type Suggested = Extract<ReturnType<typeof suggestExposure>, { ok: true }>['value']
type NotSuggested = Extract<ReturnType<typeof suggestExposure>, { ok: false }>['refusal']

function answerOf({ doseToSize, usableRange, expectedGrowthUm, fit, ...s }: Suggested): Conclusion {
  return {
    doseToSize: describeDoseToSize(fit, doseToSize),
    ...(usableRange ? { usableRange: describeUsableRange(usableRange) } : {}),
    suggestion: {
      exposureS: s.exposureS,
      intervalS: [...s.intervalS],
      expectedGrowthUm: stated(expectedGrowthUm),
      ...(s.expectedHaze ? { expectedHaze: stated(s.expectedHaze) } : {}),
      ...(s.expectedYellownessPerMm ? { expectedYellownessPerMm: stated(s.expectedYellownessPerMm) } : {}),
      rule: s.rule,
      chosenBy: s.chosenBy,
      ...(s.limits.length > 0 ? { limitedBy: s.limits.map(({ inWords }) => inWords).join('; ') } : {}),
      limits: s.limits.map((limit) => ({ ...limit })),
      halfStep: {
        ...(s.halfStep.lower ? { lower: neighbourOf(s.halfStep.lower) } : {}),
        ...(s.halfStep.higher ? { higher: neighbourOf(s.halfStep.higher) } : {}),
      },
      ...(s.safeSizeUm.line.ok ? { safeLineUm: pointOf(s.safeSizeUm.line.value) } : {}),
      ...(s.safeSizeUm.space.ok ? { safeSpaceUm: pointOf(s.safeSizeUm.space.value) } : {}),
      confidence: s.confidence,
      confidenceBasis: { ...s.confidenceBasis, reachesEnd: { ...s.confidenceBasis.reachesEnd } },
      nextLadder: nextOf(s.nextLadder),
    },
  }
}

const nextOf = ({ exposuresS, why, reason }: NotSuggested['nextLadder']) => ({
  exposuresS: [...exposuresS],
  why,
  reason,
})

const neighbourOf = ({ growthUm, haze, ...rest }: Neighbour) => ({
  ...rest,
  growthUm: stated(growthUm),
  ...(haze ? { haze: stated(haze) } : {}),
})

const noAnswerOf = ({ code, advice, detail, nextLadder }: NotSuggested): NonNullable<Conclusion['noSuggestion']> => ({
  code,
  advice,
  ...(detail === undefined ? {} : { detail }),
  nextLadder: nextOf(nextLadder),
})
