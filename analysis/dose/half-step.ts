import type { Estimate } from '../statistics/estimate.js'
import { covers, type ExposureTrend } from './exposure-trend.js'
import { growthAt, rungRangeS, type GrowthFit } from './growth-fit.js'
import { SAFE_CHANCE, type SurvivalModels } from './survival-bounds.js'
import { smallestSurvivor, type FeatureKind } from './survival-model.js'

/** What one expects at an exposure beside the suggested one. */
export interface Neighbour {
  readonly exposureS: number
  readonly growthUm: Estimate
  /** Widths from which lines, spaces survive with 95 % chance, um; absent where the model cannot tell. */
  readonly safeLineUm?: number
  readonly safeSpaceUm?: number
  readonly haze?: Estimate
}

/** Half a time step either way: as far as rounding, or the printer's own timing, may be off. */
export interface HalfStep {
  /** Absent where it lies beyond the rungs. */
  readonly lower?: Neighbour
  readonly higher?: Neighbour
}

export interface HalfStepInput {
  readonly exposureS: number
  readonly timeStepS: number
  readonly fit: GrowthFit
  readonly survival: SurvivalModels
  readonly haze: ExposureTrend | undefined
}

/** What half a time step less, or more, does to growth, survival and haze. */
export function halfStepAbout({ exposureS, timeStepS, ...models }: HalfStepInput): HalfStep {
  const [lowS, highS] = rungRangeS(models.fit)
  const [below, above] = [exposureS - timeStepS / 2, exposureS + timeStepS / 2]
  return {
    ...(below >= lowS ? { lower: neighbourAt(below, models) } : {}),
    ...(above <= highS ? { higher: neighbourAt(above, models) } : {}),
  }
}

function neighbourAt(
  exposureS: number,
  { fit, survival, haze }: Pick<HalfStepInput, 'fit' | 'survival' | 'haze'>,
): Neighbour {
  const lineUm = safeSizeUm(survival, 'line', exposureS)
  const spaceUm = safeSizeUm(survival, 'space', exposureS)
  return {
    exposureS,
    growthUm: growthAt(fit, exposureS),
    ...(lineUm === undefined ? {} : { safeLineUm: lineUm }),
    ...(spaceUm === undefined ? {} : { safeSpaceUm: spaceUm }),
    ...(haze && covers(haze, exposureS) ? { haze: haze.at(exposureS) } : {}),
  }
}

function safeSizeUm(survival: SurvivalModels, kind: FeatureKind, exposureS: number): number | undefined {
  const model = survival[kind]
  if (!model.ok) return undefined
  const size = smallestSurvivor(model.value, { exposureS, chance: SAFE_CHANCE })
  return size.ok ? size.value : undefined
}
