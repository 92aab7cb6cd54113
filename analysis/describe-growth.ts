import { findDoseToSize, sizeByModel, type DoseToSize } from './dose/dose-to-size.js'
import { gratingOffsets, growthAt, rungRangeS, type GrowthFit } from './dose/growth-fit.js'
import { findOutlyingRungs } from './dose/outlying-rungs.js'
import type { UsableRange } from './dose/usable-range.js'
import type { ReadLadder } from './result.js'
import { stated } from './statistics/estimate.js'
import { coverageFactor } from './statistics/quantiles.js'

const CURVE_POINTS = 60

/** What the result says of the growth fit, its rivals and the rungs that do not go with the others. */
export function describeGrowthFit(fit: GrowthFit): NonNullable<ReadLadder['growthFit']> {
  const { chosen, axisDifferenceUm } = fit
  const shapeParameters = chosen.parameters.slice(0, chosen.model === 'quadratic' ? 3 : 2)
  return {
    model: chosen.model,
    coefficients: shapeParameters,
    referenceS: fit.referenceS,
    whyChosen: fit.whyChosen,
    candidates: fit.candidates.map((candidate) => {
      const size = sizeByModel(fit, candidate)
      return {
        model: candidate.model,
        criterion: candidate.criterion,
        weight: candidate.weight,
        ...(size ? { doseToSize: exposureOf(size) } : {}),
      }
    }),
    ...(chosen.model === 'threshold'
      ? { criticalExposureS: (fit.referenceS * Math.exp(chosen.parameters[1]!)) / 2 }
      : {}),
    couponSpreadUm: Math.sqrt(chosen.spreadUm2),
    gratingOffsets: gratingOffsets(fit).map(({ group, offsetUm }) => ({ group, offsetUm: stated(offsetUm) })),
    ...(axisDifferenceUm ? { axisDifferenceUm: { ...stated(axisDifferenceUm), significant: fit.axesDiffer } } : {}),
    turnedSlots: fit.rungs.flatMap(({ axis, slot }) => (axis === 'y' ? [slot ?? 0] : [])),
    outlyingRungs: findOutlyingRungs(fit).map(({ rung, offUm, studentised, limit, doseToSizeWithout }) => ({
      slot: rung.slot ?? 0,
      exposureS: rung.exposureS,
      offUm,
      studentised,
      limit,
      ...(doseToSizeWithout ? { doseToSizeWithout: exposureOf(doseToSizeWithout) } : {}),
    })),
    residualsUm: fit.rungs.map(({ slot, residualUm }) => ({ slot: slot ?? 0, residualUm })),
    curve: curveOf(fit),
    degreesOfFreedom: chosen.residualDegreesOfFreedom,
  }
}

/** Dose-to-size as the result has it; each axis by itself where they differ. */
export function describeDoseToSize(fit: GrowthFit, doseToSize: DoseToSize): NonNullable<ReadLadder['doseToSize']> {
  const axes = fit.axesDiffer ? (['x', 'y'] as const) : []
  const byAxis = axes.flatMap((axis) => {
    const size = findDoseToSize(fit, { axis })
    return size.ok ? [{ axis, ...exposureOf(size.value) }] : []
  })
  return {
    ...exposureOf(doseToSize),
    reachesEnd: { ...doseToSize.reachesEnd },
    inWords: doseToSize.inWords,
    ...(byAxis.length > 0 ? { byAxis } : {}),
  }
}

/** Usable range as the result has it. */
export function describeUsableRange(range: UsableRange): NonNullable<ReadLadder['usableRange']> {
  const { low, high } = range.endIntervalsS
  return {
    toleranceUm: range.toleranceUm,
    rangeS: [...range.rangeS],
    ...(low ? { lowIntervalS: [...low] as [number, number] } : {}),
    ...(high ? { highIntervalS: [...high] as [number, number] } : {}),
    ...(range.confidentRangeS ? { confidentRangeS: [...range.confidentRangeS] as [number, number] } : {}),
    reachesEnd: { ...range.reachesEnd },
    latitudeRatio: range.latitudeRatio,
    latitudePercent: range.latitudePercent,
  }
}

const exposureOf = ({ exposureS, intervalS }: { exposureS: number; intervalS: readonly [number, number] }) => ({
  exposureS,
  intervalS: [...intervalS] as [number, number],
})

function curveOf(fit: GrowthFit) {
  const [low, high] = rungRangeS(fit).map(Math.log) as [number, number]
  return Array.from({ length: CURVE_POINTS }, (_, i) => {
    const exposureS = Math.exp(low + ((high - low) * i) / (CURVE_POINTS - 1))
    const { value, standardUncertainty, degreesOfFreedom } = growthAt(fit, exposureS)
    const half = coverageFactor(degreesOfFreedom) * standardUncertainty
    return { exposureS, growthUm: value, lowUm: value - half, highUm: value + half }
  })
}
