import { compareGroups } from '../compare/compare-groups.js'
import type { Observation } from '../compare/observation.js'
import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { fitLine } from '../statistics/line-fit.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { fitSaturation, type SaturatingFit } from './saturating-response.js'

/**
 * What the rungs of a process ladder differ in, with its unit and the model its response gets: `saturating` levels
 * off, `steps` are compared one with the next, `line` is a trend.
 */
export const PROCESS_FACTORS = {
  exposure: { unit: 's', model: 'line' },
  'post-cure-time': { unit: 'min', model: 'saturating' },
  'post-cure-stages': { unit: 'stages', model: 'steps' },
  grit: { unit: '', model: 'steps' },
  coat: { unit: '', model: 'steps' },
  'stand-time': { unit: 'min', model: 'saturating' },
  'resin-temperature': { unit: '°C', model: 'line' },
  age: { unit: 'days', model: 'line' },
} as const satisfies Readonly<
  Record<string, { readonly unit: string; readonly model: 'saturating' | 'steps' | 'line' }>
>
export type ProcessFactor = keyof typeof PROCESS_FACTORS

/** One coupon of a process ladder. */
export interface ProcessReading {
  /** What was done to it: a number in the factor's unit, or a name such as `P 800`. */
  readonly level: string
  readonly value: number
  readonly standardUncertainty: number
  readonly coupon: string
  readonly photo: string
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

export type ProcessAnswer =
  | { readonly model: 'saturating'; readonly unit: string; readonly fit: SaturatingFit }
  | {
      readonly model: 'steps'
      readonly unit: string
      readonly means: readonly { readonly level: string; readonly coupons: number; readonly mean: Estimate }[]
      /** Each level against the one before, in the order given. */
      readonly differences: readonly StepDifference[]
    }
  | {
      readonly model: 'line'
      readonly unit: string
      /** Change of the response per unit, with its 95 % interval. */
      readonly slope: Estimate
      readonly interval: readonly [number, number]
      readonly told: boolean
    }

/**
 * What a process ladder says: least amount, step by step, or trend, as suits what was varied.
 *
 * @param readings in the order of the process, such as from coarse to fine
 * @returns the answer, or a refusal: `not-a-number` for a level that should be one, `one-level`, or those of the fits
 */
export function readProcessLadder(factor: ProcessFactor, readings: readonly ProcessReading[]): Outcome<ProcessAnswer> {
  const { model, unit } = PROCESS_FACTORS[factor]
  if (new Set(readings.map(({ level }) => level)).size < 2) {
    return refuse(
      'one-level',
      'Say what was done to each coupon; at least two must differ.',
      `${readings.length} coupons`,
    )
  }
  if (model === 'steps') return compareSteps(readings, unit)
  const points = readings.map(({ level, ...rest }) => ({ amount: level.trim() === '' ? NaN : Number(level), ...rest }))
  const wrong = readings.find((_, i) => !(points[i]!.amount > -Infinity && points[i]!.amount < Infinity))
  if (wrong || (model === 'saturating' && points.some(({ amount }) => amount < 0))) {
    return refuse('not-a-number', `Give each coupon a number in ${unit}.`, wrong?.level)
  }
  if (model === 'saturating') {
    const fit = fitSaturation(points)
    return fit.ok ? { ok: true, value: { model, unit, fit: fit.value } } : fit
  }
  const line = fitLine(
    points.map(({ amount }) => amount),
    points.map(({ value }) => value),
  )
  if (!line.ok) return line
  const { slope } = line.value
  return { ok: true, value: { model, unit, slope, ...spanOf(slope) } }
}

function compareSteps(readings: readonly ProcessReading[], unit: string): Outcome<ProcessAnswer> {
  const observations = readings.map(({ level, value, standardUncertainty, coupon, photo }): Observation => ({
    group: level,
    value,
    standardUncertainty,
    photo,
    photoUncertainty: 0,
    coupon,
    exposureS: 1,
  }))
  const compared = compareGroups(observations)
  if (!compared.ok) return compared
  const { groups, differences } = compared.value
  const order = [...new Set(readings.map(({ level }) => level))]
  const steps = order.slice(1).map((to, i): StepDifference => {
    const from = order[i]!
    const place = (level: string) => groups.findIndex(({ group }) => group === level)
    const found = differences.find(({ pair }) => pair.includes(place(from)) && pair.includes(place(to)))!
    const sign = found.pair[1] === place(to) ? 1 : -1
    const { value, standardUncertainty, degreesOfFreedom } = found.difference
    const difference = makeEstimate(sign * value, standardUncertainty, degreesOfFreedom)
    return { from, to, difference, ...spanOf(difference) }
  })
  const means = order.map((level) => {
    const { coupons, mean } = groups.find(({ group }) => group === level)!
    return { level, coupons, mean }
  })
  return { ok: true, value: { model: 'steps', unit, means, differences: steps } }
}

function spanOf({ value, standardUncertainty, degreesOfFreedom }: Estimate) {
  const half = coverageFactor(degreesOfFreedom) * standardUncertainty
  return { interval: [value - half, value + half] as const, told: Math.abs(value) > half }
}
