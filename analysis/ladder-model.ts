import { doseRungs } from './dose-rungs.js'
import { covers, fitExposureTrend } from './dose/exposure-trend.js'
import type { LadderModel } from './dose/expect-at.js'
import { fitGrowth } from './dose/growth-fit.js'
import { SHAPES } from './dose/growth-shape.js'
import type { KnownDepth, LayerChange } from './dose/layer-height.js'
import type { LayerLadder } from './dose/layer-ladders.js'
import { fitWindowTrend } from './dose/window-trend.js'
import { fitPrintThrough, type PrintThroughRung } from './dose/print-through.js'
import { fitSurvivals } from './dose/survival-bounds.js'
import { refuse, type Outcome } from './outcome.js'
import type { ReadLadder } from './result.js'
import { coverageFactor } from './statistics/quantiles.js'

/**
 * What a reading says of its ladder, for asking what would be at other exposures and layer heights.
 *
 * @returns the model, or the refusal of `fitGrowth`
 */
export function ladderModel({ design, rungs, growthFit }: ReadLadder): Outcome<LadderModel> {
  const { rungs: printed, commonUncertaintyUm } = doseRungs(rungs, growthFit?.turnedSlots)
  const fit = fitGrowth(
    printed.flatMap(({ growthUm, ...rung }) => (growthUm ? [{ ...rung, growthUm }] : [])),
    { commonUncertaintyUm },
  )
  if (!fit.ok) return fit
  const haze = fitWindowTrend(printed, 'haze')
  const through = printThroughRungs(rungs)
  const line = printThroughTrend(through)
  const depth = depthOf(through)
  return {
    ok: true,
    value: {
      layerUm: design.layerHeightUm,
      fit: fit.value,
      survival: fitSurvivals(printed),
      ...(line.ok ? { printThrough: line.value } : {}),
      ...(haze.ok ? { haze: haze.value } : {}),
      ...(depth ? { depth } : {}),
    },
  }
}

/** What a reading brings to the question of another layer height. */
export type LayerSource = Omit<LayerChange, 'toUm' | 'timeStepS'>

/**
 * Suggested exposure, depth, print-through and slope of a reading.
 *
 * @returns them, or the refusal `no-suggestion`
 */
export function layerSourceOf(reading: ReadLadder): Outcome<LayerSource> {
  const { suggestion, design, growthFit } = reading
  if (!suggestion) {
    return refuse('no-suggestion', 'Print the ladder that this reading asks for first.', 'the reading gave no exposure')
  }
  const { exposureS, intervalS } = suggestion
  const through = printThroughRungs(reading.rungs)
  const line = printThroughTrend(through)
  const depth = depthOf(through)
  const slope =
    growthFit && SHAPES[growthFit.model].slopeUm(growthFit.coefficients, Math.log(exposureS / growthFit.referenceS))
  return {
    ok: true,
    value: {
      exposureS,
      intervalS,
      fromUm: design.layerHeightUm,
      ...(depth ? { depth } : {}),
      ...(line.ok && covers(line.value, exposureS) ? { printThroughUm: line.value.at(exposureS).value } : {}),
      ...(slope === undefined ? {} : { growthSlopeUm: slope }),
    },
  }
}

/** Dose-to-size of a reading for `fitLayerLadders`; its uncertainty from the 95 % interval, taken as normal. */
export function layerLadderOf({ doseToSize, design }: ReadLadder): Outcome<LayerLadder> {
  if (!doseToSize) {
    return refuse('no-dose-to-size', 'Print the ladder that this reading asks for first.', 'no dose-to-size was found')
  }
  const { exposureS, intervalS } = doseToSize
  const relativeUncertainty = Math.log(intervalS[1] / intervalS[0]) / (2 * coverageFactor(undefined))
  return { ok: true, value: { layerUm: design.layerHeightUm, exposureS, relativeUncertainty } }
}

function printThroughRungs(rungs: ReadLadder['rungs']): PrintThroughRung[] {
  return rungs.flatMap((rung) =>
    'growthUm' in rung && rung.printThroughUm
      ? [{ exposureS: rung.exposureS, printThroughUm: rung.printThroughUm }]
      : [],
  )
}

/** Straight, as `fitPrintThrough` takes it. */
const printThroughTrend = (through: readonly PrintThroughRung[]) =>
  fitExposureTrend(
    through.map(({ exposureS, printThroughUm: measured }) => ({ exposureS, measured })),
    'straight',
  )

/** Effective penetration depth with its 95 % interval, where print-through shows it. */
function depthOf(through: readonly PrintThroughRung[]): KnownDepth | undefined {
  const depth = fitPrintThrough(through)
  if (!depth.ok) return undefined
  const { value, standardUncertainty, degreesOfFreedom } = depth.value
  const half = coverageFactor(degreesOfFreedom) * standardUncertainty
  return { valueUm: value, intervalUm: [value - half, value + half] }
}
