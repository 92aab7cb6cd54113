import type { LightField } from '../image/light-field.js'
import type { ToPx } from '../coupon/plane-map.js'
import type { ZGap } from '../layout/schema.js'
import { edgeProfile } from './edge-profile.js'
import { fitEdges } from './edge-fit.js'
import { searchGrooves } from './groove-search.js'

export type GapMeasurement =
  | { readonly state: 'open'; readonly gapMm: number; readonly earlierEdgeMm: number; readonly laterEdgeMm: number }
  | { readonly state: 'closed' }
  | { readonly state: 'unread' }

export interface GapOptions {
  readonly blurMm: number
  readonly paperLight: number
  /** Light of a wide groove and of the land beside it, when known. */
  readonly grooveLight?: number
  readonly landLight?: number
}

const SIDE_MM = 0.35
const BEYOND_MM = 0.4
/** How far the earlier edge may lie from nominal in a refined place. */
const REACH_MM = 0.12
const LEAST_CONTRAST = 0.15
const FEWEST_BINS = 12
/** Print-through may close a gap wholly; the later edge may lie a little above nominal on an underexposed rung. */
const LATER_MM = 0.25
/** Open by less than this counts as closed: a crack of 15 um holds no ink that a phone could see. */
const LEAST_OPEN_MM = 0.02
/** Below so many blurs width and darkness cannot be told apart: the light of the groove comes from wide ones. */
const FREE_FIT_BLURS = 4

/**
 * Width of one gap along the build, and whether print-through has closed it.
 *
 * @param toPx coupon millimetres to pixels
 */
export function measureGap(light: LightField, toPx: ToPx, gap: ZGap, options: GapOptions): GapMeasurement {
  const found = searchGap(light, toPx, gap, options.paperLight, REACH_MM)
  if (!found) return { state: 'unread' }
  const { profile, guess } = found
  const [first = 0, second = 0] = guess.edgesMm
  const { grooveLight, landLight } = options
  if (grooveLight !== undefined && landLight !== undefined) {
    const openMm = equivalentOpening(profile, landLight, grooveLight)
    if (openMm < LEAST_OPEN_MM) return { state: 'closed' }
  } else if (Math.abs(guess.contrast) < LEAST_CONTRAST) return { state: 'unread' }
  const narrow = second - first < FREE_FIT_BLURS * options.blurMm
  if (narrow && grooveLight === undefined) return { state: 'unread' }
  const fitted = fitEdges(profile, [first, second], {
    blurMm: options.blurMm,
    blurSpreadMm: options.blurMm * (narrow ? 0.05 : 0.3),
    ...(narrow && grooveLight !== undefined ? { innerLevel: { value: grooveLight, standardUncertainty: 0.01 } } : {}),
  })
  if (!fitted.ok) return { state: 'unread' }
  const [earlierEdgeMm = 0, laterEdgeMm = 0] = fitted.value.edgesMm
  return { state: 'open', gapMm: laterEdgeMm - earlierEdgeMm, earlierEdgeMm, laterEdgeMm }
}

/**
 * Where the earlier edge of a gap lies, to a fiftieth of a millimetre, for a coupon whose place is known only roughly.
 *
 * @param reachMm how far from nominal it may lie
 * @returns undefined when no gap is to be seen
 */
export function locateGap(
  light: LightField,
  toPx: ToPx,
  gap: ZGap,
  paperLight: number,
  reachMm: number,
): number | undefined {
  const found = searchGap(light, toPx, gap, paperLight, reachMm)
  return found && Math.abs(found.guess.contrast) >= LEAST_CONTRAST ? found.guess.edgesMm[0] : undefined
}

function searchGap(light: LightField, toPx: ToPx, gap: ZGap, paperLight: number, reachMm: number) {
  const beyond = BEYOND_MM + reachMm - REACH_MM
  const region = { x0: gap.x0Mm + SIDE_MM, x1: gap.x1Mm - SIDE_MM, y0: gap.y0Mm - beyond, y1: gap.y1Mm + beyond }
  const profile = edgeProfile(light, toPx, region, 'y', paperLight)
  if (profile.positionMm.length < FEWEST_BINS) return undefined
  const guess = searchGrooves(profile, [gap.y0Mm, gap.y1Mm], {
    reachMm: 0,
    lower: [-reachMm, reachMm],
    upper: [-LATER_MM - reachMm + REACH_MM, Math.max(0, gap.gapMm - 0.1)],
    symmetric: false,
  })
  return { profile, guess }
}

/** Width of a groove of full darkness (or, inked on the lands, full brightness) that would change the light as much. */
function equivalentOpening(
  { positionMm, light, count }: { positionMm: Float64Array; light: Float64Array; count: Float64Array },
  landLight: number,
  grooveLight: number,
): number {
  // The land's own light beside this gap, from the ends of the profile, tells local shading from an opening.
  const ends = light.length >> 3
  let [land, n, sum, total] = [0, 0, 0, 0]
  for (let i = 0; i < light.length; i++) {
    if (i < ends || i >= light.length - ends) {
      land += light[i]! * count[i]!
      n += count[i]!
    }
    sum += light[i]! * count[i]!
    total += count[i]!
  }
  const span = (positionMm[positionMm.length - 1] ?? 0) - (positionMm[0] ?? 0)
  const here = land / n
  return ((here - sum / total) / (landLight - grooveLight)) * span
}
