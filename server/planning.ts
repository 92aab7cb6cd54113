import {
  changeLamp,
  changeLayerHeight,
  doseForDepth,
  doseOf,
  FACTORS,
  fitLayerLadders,
  fitWorkingCurve,
  layerLadderOf,
  layerSourceOf,
  ladderLayout,
  planFirstLadder,
  planLevels,
  printTimesS,
  readCureTable,
  refuse,
  stated,
  temperatureWarnings,
  type LampChange,
  type LayerChange,
  type Outcome,
  type ReadLadder,
} from '../analysis/index.js'
import type {
  FirstLadderReply,
  FirstLadderRequest,
  LampReply,
  LayerHeightReply,
  LevelsReply,
  LevelsRequest,
  WorkingCurveReply,
} from './api/planning.js'
import { printOrder } from './printables/print-order.js'

/** Exposure at another layer height, from one change or from readings, the first of which is carried over. */
export function answerLayerHeight(
  readings: readonly ReadLadder[],
  change: Partial<LayerChange> & Pick<LayerChange, 'toUm'>,
): Outcome<LayerHeightReply> {
  const source = readings[0] ? layerSourceOf(readings[0]) : undefined
  if (source && !source.ok) return source
  const given = { ...source?.value, ...change }
  const { exposureS, fromUm } = given
  if (exposureS === undefined || fromUm === undefined) {
    throw new RangeError('answerLayerHeight needs a reading, or exposureS and fromUm')
  }
  const { depth, ...answer } = changeLayerHeight({ ...given, exposureS, fromUm })
  const ladders = readings.map(layerLadderOf).flatMap((one) => (one.ok ? one.value : []))
  const heights = new Set(ladders.map(({ layerUm }) => layerUm)).size
  const fitted = heights > 1 ? fitLayerLadders(ladders, change.toUm) : undefined
  const temperatures = readings.flatMap(({ resinTemperatureC }) => resinTemperatureC ?? [])
  return {
    ok: true,
    value: {
      fromUm,
      toUm: change.toUm,
      ...answer,
      depth: { valueUm: depth.valueUm, intervalUm: [...depth.intervalUm] },
      bond: { ...answer.bond, intervalS: [...answer.bond.intervalS] },
      accumulated: { ...answer.accumulated, intervalS: [...answer.accumulated.intervalS] },
      bracketS: [...answer.bracketS],
      confirmingLadderS: [...answer.confirmingLadderS],
      ...(fitted?.ok ? { ladders: structuredClone(fitted.value) as NonNullable<LayerHeightReply['ladders']> } : {}),
      warnings: [...(fitted && !fitted.ok ? [fitted.refusal] : []), ...temperatureWarnings(temperatures)],
    },
  }
}

/** Working curve of a pasted table. */
export function answerWorkingCurve(
  table: string,
  {
    irradianceMwPerCm2,
    forDepthUm,
  }: { readonly irradianceMwPerCm2?: number | undefined; readonly forDepthUm?: number | undefined },
): Outcome<WorkingCurveReply> {
  const read = readCureTable(table, { irradianceMwPerCm2 })
  if (!read.ok) return read
  const { points, lines, skipped, columns, columnsHold } = read.value
  const fit = fitWorkingCurve(points)
  if (!fit.ok) return fit
  const { line: _, residualsUm, advice, penetrationDepthUm, curvature, ...curve } = fit.value
  const dose = forDepthUm === undefined ? undefined : doseForDepth(fit.value, forDepthUm)
  return {
    ok: true,
    value: {
      ...curve,
      columns,
      columnsHold,
      points: points.map((point, i) => ({ line: lines[i]!, ...point, residualUm: residualsUm[i]! })),
      skipped: skipped.map((one) => ({ ...one })),
      penetrationDepthUm: stated(penetrationDepthUm),
      penetrationDepthIntervalUm: [...curve.penetrationDepthIntervalUm],
      criticalDoseIntervalMjPerCm2: [...curve.criticalDoseIntervalMjPerCm2],
      curvature: { ...curvature, quadraticUm: curvature.quadraticUm && stated(curvature.quadraticUm) },
      advice: advice.map(({ index, ...one }) => ({ line: lines[index]!, ...one })),
      ...(dose && forDepthUm !== undefined
        ? {
            forDepth: {
              depthUm: forDepthUm,
              doseMjPerCm2: dose.doseMjPerCm2,
              intervalMjPerCm2: [...dose.intervalMjPerCm2],
              oneLayerMjPerCm2: [...dose.oneLayerMjPerCm2],
            },
          }
        : {}),
    },
  }
}

/** Dose of an exposure, and the exposure for it under another lamp. */
export function answerLamp(change: LampChange): LampReply {
  const { exposureS, intervalS, caution } = changeLamp(change)
  const { mjPerCm2, standardUncertainty } = doseOf(change.exposureS, change.from)
  return { exposureS, intervalS: [...intervalS], doseMjPerCm2: { value: mjPerCm2, standardUncertainty }, caution }
}

/** A mask pixel for the height of a coupon, which hardly depends on it. */
const ANY_PIXEL_UM = 34

/** The first ladder with the order and time of its prints. */
export function answerFirstLadder({ layerHeightUm, known, timeStepS, ...print }: FirstLadderRequest): FirstLadderReply {
  const { exposuresS, span, why } = planFirstLadder(layerHeightUm, known, { timeStepS })
  const { coupon } = ladderLayout({ ladderId: '0000', layerHeightUm, pixelPitchUm: ANY_PIXEL_UM, exposuresS: [1] })
  const rungs = exposuresS.map((_, i) => i + 1)
  return {
    exposuresS: [...exposuresS],
    span,
    why,
    printOrder: printOrder(rungs, `${layerHeightUm} ${exposuresS.join(' ')}`),
    printTimesS: printTimesS({ exposuresS, layerUm: layerHeightUm, heightMm: coupon.sizeMm.y, ...print }),
  }
}

/** Levels of a ladder between two ends. */
export function answerLevels({ factor, from, to, rungs = 6 }: LevelsRequest): Outcome<LevelsReply> {
  const { unit } = FACTORS[factor]
  if (unit === '') return refuse('levels-are-names', 'Name the levels yourself, from coarse to fine.', factor)
  if (!(from < to))
    return refuse('levels-go-down', 'Give a highest level above the lowest.', `${from} to ${to} ${unit}`)
  return { ok: true, value: { factor, unit, levels: planLevels(factor, from, to, rungs) } }
}
