import { compareGroups } from '../compare/compare-groups.js'
import type { Observation } from '../compare/observation.js'
import { FACTORS, type Factor } from '../layout/factors.js'
import { refuse, type Outcome, type Refusal } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { fitProcessTrend, type ProcessTrend } from './process-trend.js'
import { fitSaturation, type SaturatingFit } from './saturating-response.js'

/** What the response to each factor is taken for: `saturating` levels off, `steps` are compared, `line` is a trend. */
export const MODELS: Readonly<Record<Factor, 'saturating' | 'steps' | 'line'>> = {
  'post-cure-time': 'saturating',
  'post-cure-stages': 'steps',
  grit: 'steps',
  coat: 'steps',
  'stand-time': 'saturating',
  'resin-temperature': 'line',
  age: 'line',
}

/** One coupon of a process ladder on one photograph. */
export interface ProcessReading {
  /** What was done to it: a number in the factor's unit, or a name such as `P800`. */
  readonly level: string
  readonly value: number
  /** Above 0; of the value by itself. */
  readonly standardUncertainty: number
  readonly coupon: string
  readonly photo: string
  /** What the photograph adds to all its coupons alike; differences within one photograph do not have it. */
  readonly photoUncertainty: number
}

export interface StepDifference {
  readonly from: string
  readonly to: string
  /** Second less first, with its 95 % interval. */
  readonly difference: Estimate
  readonly interval: readonly [number, number]
  /** Whether the interval leaves out 0. */
  readonly told: boolean
}

export interface StepFit {
  readonly model: 'steps'
  readonly means: readonly { readonly level: string; readonly coupons: number; readonly mean: Estimate }[]
  /** Each level against the one before, in the order given. */
  readonly differences: readonly StepDifference[]
  /** Any two levels: second less first. */
  readonly between: (from: string, to: string) => StepDifference
}

export type ProcessFitted =
  | { readonly model: 'saturating'; readonly fit: SaturatingFit }
  | StepFit
  | {
      readonly model: 'line'
      readonly trend: ProcessTrend
      readonly interval: readonly [number, number]
      readonly told: boolean
      /** Why it is a line where a response that levels off was looked for. */
      readonly noPlateau?: Refusal
    }

/**
 * What a response says of what was varied: least amount, step by step, or trend, as suits the factor.
 *
 * Where a response that should level off does not show it, its trend is given with the reason.
 *
 * @param readings in the order of the process, such as from coarse to fine
 * @returns the answer, or a refusal: `not-a-number` for a level that should be one, `one-level`, or those of the fits
 */
export function readProcessLadder(factor: Factor, readings: readonly ProcessReading[]): Outcome<ProcessFitted> {
  const model = MODELS[factor]
  if (new Set(readings.map(({ level }) => level)).size < 2) {
    return refuse('one-level', 'Read coupons of at least two levels.', `${readings.length} coupons`)
  }
  if (model === 'steps') return compareSteps(readings)
  const points = readings.map(({ level, ...rest }) => ({ ...rest, amount: level.trim() === '' ? NaN : Number(level) }))
  const wrong = readings.find((_, i) => !(points[i]!.amount > -Infinity && points[i]!.amount < Infinity))
  if (wrong || (model === 'saturating' && points.some(({ amount }) => amount < 0))) {
    return refuse('not-a-number', `Give each coupon a number in ${FACTORS[factor].unit}.`, wrong?.level)
  }
  const fit = model === 'saturating' ? fitSaturation(points) : undefined
  if (fit?.ok) return { ok: true, value: { model: 'saturating', fit: fit.value } }
  const trend = fitProcessTrend(points)
  if (!trend.ok) return fit ?? trend
  return {
    ok: true,
    value: { model: 'line', trend: trend.value, ...spanOf(trend.value.slope), ...(fit && { noPlateau: fit.refusal }) },
  }
}

function compareSteps(readings: readonly ProcessReading[]): Outcome<StepFit> {
  const compared = compareGroups(
    readings.map(({ level, ...rest }): Observation => ({ ...rest, group: level, exposureS: 1 })),
  )
  if (!compared.ok) return compared
  const { groups, differences } = compared.value
  const order = [...new Set(readings.map(({ level }) => level))]
  const place = (level: string) => groups.findIndex(({ group }) => group === level)
  const between = (from: string, to: string): StepDifference => {
    const found = differences.find(({ pair }) => pair.includes(place(from)) && pair.includes(place(to)))!
    const sign = found.pair[1] === place(to) ? 1 : -1
    const { value, standardUncertainty, degreesOfFreedom } = found.difference
    const difference = makeEstimate(sign * value, standardUncertainty, degreesOfFreedom)
    return { from, to, difference, ...spanOf(difference) }
  }
  const means = order.map((level) => {
    const { coupons, mean } = groups[place(level)]!
    return { level, coupons, mean }
  })
  return {
    ok: true,
    value: { model: 'steps', means, differences: order.slice(1).map((to, i) => between(order[i]!, to)), between },
  }
}

/** 95 % interval of a difference, and whether it leaves out 0. */
export function spanOf({ value, standardUncertainty, degreesOfFreedom }: Estimate) {
  const half = coverageFactor(degreesOfFreedom) * standardUncertainty
  return { interval: [value - half, value + half] as const, told: Math.abs(value) > half }
}
