import { coverageFactor } from '../statistics/quantiles.js'
import type { Estimate } from '../statistics/estimate.js'
import { covers, type ExposureTrend } from './exposure-trend.js'
import { growthAt, rungRangeS, type GrowthFit } from './growth-fit.js'
import { UNKNOWN_DEPTH, type KnownDepth } from './layer-height.js'
import { doseBelow, transferRatios } from './layer-transfer.js'
import { SAFE_CHANCE, type SurvivalModels } from './survival-bounds.js'
import { smallestSurvivor, survivalChance, type FeatureKind } from './survival-model.js'

/** All that one ladder says of its resin, printer and layer height. */
export interface LadderModel {
  readonly layerUm: number
  readonly fit: GrowthFit
  readonly survival: SurvivalModels
  readonly printThrough?: ExposureTrend | undefined
  readonly haze?: ExposureTrend | undefined
  /** Effective penetration depth; absent: unknown. */
  readonly depth?: KnownDepth | undefined
}

/** A value with its 95 % band. */
export interface Band {
  readonly value: number
  readonly low: number
  readonly high: number
}

export interface Expectation {
  /** Exposure at the ladder's own layer height that accumulates the same dose, s. */
  readonly equivalentS: Band
  /** Whether the ladder speaks for it: within its rungs, below or above. Outside, only doses are given. */
  readonly place: 'within' | 'below' | 'above'
  readonly growthUm?: Band
  readonly printThroughUm?: Band
  readonly haze?: Band
  /** Chance of survival of each size printed, by kind; only for kinds with a model. */
  readonly survival: readonly { readonly kind: FeatureKind; readonly nominalUm: number; readonly chance: number }[]
  /** Width from which a kind survives with 95 % chance, um. */
  readonly safeLineUm?: number
  readonly safeSpaceUm?: number
  /** Dose at depths below the face where a thick part ends, over that of one exposure at its face. */
  readonly accumulatedDose: readonly ({ readonly depthUm: number } & Band)[]
}

const DEPTH_STEPS = 24
/** How far below the end of a part doses are given, in penetration depths. */
const DEPTHS = 4

/**
 * What to expect of an exposure at a layer height: growth, survival, print-through, haze, and the dose by depth.
 *
 * Growth, survival, print-through and haze follow the accumulated dose, so another layer height is the exposure that
 * accumulates as much at the ladder's own: t1 = t2 (1 - q1) / (1 - q2). Its band is that of the penetration depth, or the
 * whole prior range when the depth is unknown. The bands of the quantities span those of both ends. Nothing is said of
 * them outside the rungs.
 *
 * @throws {RangeError} if the exposure or layer height is not above 0
 */
export function expectAt(model: LadderModel, exposureS: number, layerUm: number): Expectation {
  if (!(exposureS > 0 && exposureS < Infinity)) {
    throw new RangeError(`expectAt needs an exposure above 0 s, got ${exposureS}`)
  }
  const depth = model.depth ?? UNKNOWN_DEPTH
  const equivalent = (depthUm: number) => exposureS / transferRatios(model.layerUm, layerUm, depthUm).accumulatedNear
  const equivalentS = bandOf(equivalent(depth.valueUm), depth.intervalUm.map(equivalent))
  const at = Math.log(equivalentS.value)
  const [low, high] = rungRangeS(model.fit)
  const slack = 1e-9
  const place = at < Math.log(low) - slack ? 'below' : at > Math.log(high) + slack ? 'above' : 'within'
  const accumulatedDose = Array.from({ length: DEPTH_STEPS + 1 }, (_, i) => {
    const depthUm = (DEPTHS * depth.valueUm * i) / DEPTH_STEPS
    const dose = (penetrationUm: number) => doseBelow(depthUm, layerUm, penetrationUm)
    return { depthUm, ...bandOf(dose(depth.valueUm), depth.intervalUm.map(dose)) }
  })
  if (place !== 'within') return { equivalentS, place, survival: [], accumulatedDose }

  const along = (valueAt: (exposureS: number) => Estimate) => bandAlong(equivalentS, valueAt, [low, high])
  const onTrend = (trend: ExposureTrend | undefined) =>
    trend && covers(trend, equivalentS.value) ? along(trend.at) : undefined
  const printThroughUm = onTrend(model.printThrough)
  const haze = onTrend(model.haze)
  const safe = (kind: FeatureKind) => {
    const fitted = model.survival[kind]
    const size = fitted.ok
      ? smallestSurvivor(fitted.value, { exposureS: equivalentS.value, chance: SAFE_CHANCE })
      : fitted
    return size.ok ? size.value : undefined
  }
  const [safeLineUm, safeSpaceUm] = [safe('line'), safe('space')]
  return {
    equivalentS,
    place,
    growthUm: along((s) => growthAt(model.fit, s)),
    ...(printThroughUm ? { printThroughUm } : {}),
    ...(haze ? { haze } : {}),
    survival: (['line', 'space'] as const).flatMap((kind) => {
      const fitted = model.survival[kind]
      if (!fitted.ok) return []
      return fitted.value.sizesUm.map((nominalUm) => ({
        kind,
        nominalUm,
        chance: survivalChance(fitted.value, nominalUm, equivalentS.value),
      }))
    }),
    ...(safeLineUm === undefined ? {} : { safeLineUm }),
    ...(safeSpaceUm === undefined ? {} : { safeSpaceUm }),
    accumulatedDose,
  }
}

function bandOf(value: number, ends: readonly number[]): Band {
  return { value, low: Math.min(value, ...ends), high: Math.max(value, ...ends) }
}

/** The bands at the equivalent exposure and, cut at the rungs, at both ends of its own band. */
function bandAlong(
  equivalentS: Band,
  valueAt: (exposureS: number) => Estimate,
  [lowS, highS]: readonly [number, number],
): Band {
  const inside = (exposureS: number) => Math.min(highS, Math.max(lowS, exposureS))
  const parts = [equivalentS.value, inside(equivalentS.low), inside(equivalentS.high)].map((exposureS) => {
    const { value, standardUncertainty, degreesOfFreedom } = valueAt(exposureS)
    const half = coverageFactor(degreesOfFreedom) * standardUncertainty
    return { value, low: value - half, high: value + half }
  })
  return {
    value: parts[0]!.value,
    low: Math.min(...parts.map((part) => part.low)),
    high: Math.max(...parts.map((part) => part.high)),
  }
}
