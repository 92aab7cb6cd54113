import type { LightField } from '../image/light-field.js'
import type { ToPx } from '../coupon/plane-map.js'
import type { IsolatedFeature } from '../layout/schema.js'
import { edgeProfile } from './edge-profile.js'

export interface IsolatedOptions {
  readonly paperLight: number
  /** Light of a wide groove and of the land, from the gratings. */
  readonly grooveLight: number
  readonly landLight: number
  readonly closedFromAboveMm: number
}

/** Half of what separates neighbours in a comb, so that a neighbour's edge stays outside. */
const BESIDE_MM = 0.28
const END_MM = 0.3
/** What is gone reads 2 um at most on path-traced photographs; a wall of 48 um between rounded rims reads 13. */
const LEAST_WIDTH_MM = 0.008

/**
 * Whether an isolated line stands or an isolated space is open.
 *
 * By its area-equivalent width: the width of full light (line) or full darkness (space) that would change the light as
 * much. Unlike an edge distance it means something below the blur.
 *
 * @returns undefined when print-through leaves nothing of the comb to look at
 */
export function survives(
  light: LightField,
  toPx: ToPx,
  feature: IsolatedFeature,
  { paperLight, grooveLight, landLight, closedFromAboveMm }: IsolatedOptions,
): boolean | undefined {
  const y1 = feature.y1Mm - Math.max(0, closedFromAboveMm) - END_MM
  const y0 = feature.y0Mm + END_MM
  if (y1 - y0 < 0.25) return undefined
  const region = { x0: feature.x0Mm - BESIDE_MM, x1: feature.x1Mm + BESIDE_MM, y0, y1 }
  const { positionMm, light: values, count } = edgeProfile(light, toPx, region, 'x', paperLight)
  const surroundings = feature.kind === 'line' ? grooveLight : landLight
  const own = feature.kind === 'line' ? landLight : grooveLight
  const ends = surroundingsLight(values, surroundings)
  const step = (region.x1 - region.x0) / positionMm.length
  let area = 0
  for (let i = 0; i < values.length; i++) if (count[i]! > 0) area += (values[i]! - ends) * step
  return area / (own - surroundings) > LEAST_WIDTH_MM
}

/** Light beside the feature: what the two ends of the profile show where it agrees with the gratings, which say about the same. */
function surroundingsLight(values: Float64Array, expected: number): number {
  const n = Math.max(2, Math.floor(values.length / 10))
  let sum = 0
  for (let i = 0; i < n; i++) sum += values[i]! + values[values.length - 1 - i]!
  const seen = sum / (2 * n)
  return Math.abs(seen - expected) < 0.15 ? seen : expected
}
