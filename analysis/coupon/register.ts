import type { LightField } from '../image/light-field.js'
import { lightAt } from '../image/light-field.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import { couponPlane, type CouponPlace, type ToPx } from './plane-map.js'

/** How a coupon was laid or printed; only `upright` can be measured as it is. */
export type Orientation = 'upright' | 'turned' | 'mirrored' | 'turned-mirrored'

export interface Registration {
  readonly place: CouponPlace
  readonly orientation: Orientation
  /** Which parts are dark: grooves that took a wash, or lands that took ink. */
  readonly inking: 'grooves' | 'lands'
  /** Mean difference of light between what should be clear and what should be dark, share of paper light. */
  readonly contrast: number
  /** The same for the best orientation that was not chosen. */
  readonly rival: number
}

/** A probe: a place on the coupon whose light is compared. */
interface Probe {
  readonly x: number
  readonly y: number
  readonly void: boolean
}

/**
 * Places well inside large grooves, and places on the face well away from them but inside the ink pad.
 *
 * Few and far from edges, so that growth does not move them in or out: gaps of 0.6 mm and more (their lower, earlier
 * half: print-through fills them from above), the key, and the broad grooves of the combs.
 */
export function registrationProbes(coupon: CouponLayout): Probe[] {
  const { key, gaps, prisms, gratings } = coupon
  const probes: Probe[] = []
  const add = (isVoid: boolean, x: number, y: number) => probes.push({ x, y, void: isVoid })
  for (const fx of [0.25, 0.5, 0.75])
    for (const fy of [0.2, 0.4, 0.6])
      add(true, key.x0Mm + fx * (key.x1Mm - key.x0Mm), key.y0Mm + fy * (key.y1Mm - key.y0Mm))
  for (const gap of gaps) {
    const xs = [0.2, 0.5, 0.8].map((f) => gap.x0Mm + f * (gap.x1Mm - gap.x0Mm))
    for (const x of xs) {
      if (gap.gapMm >= 1) for (const y of [0.2, 0.45, 0.7]) add(true, x, gap.y0Mm + Math.min(y, gap.gapMm / 2))
      add(false, x, gap.y0Mm - 0.45)
    }
  }
  for (const { id, polygon } of prisms)
    if (id.startsWith('line-comb')) {
      const xs = polygon.map(([x]) => x)
      const ys = polygon.map(([, y]) => y)
      const middle = (Math.min(...xs) + Math.max(...xs)) / 2
      for (const f of [0.2, 0.4, 0.6]) add(true, middle, Math.min(...ys) + f * (Math.max(...ys) - Math.min(...ys)))
    }
  for (const grating of gratings)
    for (let i = 0; i < grating.grooves; i++) {
      const groove = grating.x0Mm + i * grating.pitchMm + grating.grooveMm / 2
      for (const f of [0.25, 0.5]) {
        const y = grating.y0Mm + f * (grating.y1Mm - grating.y0Mm)
        add(true, groove, y)
        if (i > 0) add(false, groove - grating.pitchMm / 2, y)
      }
    }
  for (const x of [7, 9, 11, 13, 16, 19, 22]) add(false, x, 7.75)
  for (const y of [3, 5, 7]) add(false, 2.1, y)
  return probes
}

const REACH_MM = 2.4
const ROTATIONS_DEG = [-4, -2.67, -1.33, 0, 1.33, 2.67, 4]
const COARSE_STEP_MM = 0.3

/**
 * Finds how a coupon lies in its slot, by trying places, turns and both printings against the light at its probes.
 *
 * @param face card mm at the height of the coupon's face to pixels
 * @param paperLight light of bare paper near the slot
 * @returns the best place with its contrast; the caller judges whether that is a coupon
 */
export function registerCoupon(
  light: LightField,
  face: ToPx,
  slot: Slot,
  coupon: CouponLayout,
  probes: readonly Probe[],
  paperLight: number,
): Registration {
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const score = (place: CouponPlace): number => {
    const toPx = couponPlane(face, place, middle)
    return probeContrast(light, toPx, probes) / paperLight
  }
  const centre = [slot.originMm[0] + middle[0], slot.originMm[1] + middle[1]] as const
  const candidates = (
    [
      ['upright', 0, false],
      ['turned', Math.PI, false],
      ['mirrored', 0, true],
      ['turned-mirrored', Math.PI, true],
    ] as const
  ).map(([orientation, turn, mirrored]) => ({ orientation, ...bestPlace(score, centre, turn, mirrored) }))
  candidates.sort((a, b) => Math.abs(b.contrast) - Math.abs(a.contrast))
  const [best, second] = candidates
  if (!best || !second) throw new RangeError('registerCoupon needs four orientations to compare, got fewer')
  return {
    place: best.place,
    orientation: best.orientation,
    inking: best.contrast > 0 ? 'grooves' : 'lands',
    contrast: Math.abs(best.contrast),
    rival: Math.abs(second.contrast),
  }
}

function bestPlace(
  score: (place: CouponPlace) => number,
  [cx, cy]: readonly [number, number],
  turn: number,
  mirrored: boolean,
): { place: CouponPlace; contrast: number } {
  const at = (xMm: number, yMm: number, rotationRad: number): CouponPlace => ({ xMm, yMm, rotationRad, scale: 1, mirrored })
  let place = at(cx, cy, turn)
  let contrast = 0
  const consider = (candidate: CouponPlace) => {
    const value = score(candidate)
    if (Math.abs(value) > Math.abs(contrast)) {
      contrast = value
      place = candidate
    }
  }
  const reach = Math.ceil(REACH_MM / COARSE_STEP_MM)
  for (const degrees of ROTATIONS_DEG)
    for (let i = -reach; i <= reach; i++)
      for (let j = -reach; j <= reach; j++)
        consider(at(cx + i * COARSE_STEP_MM, cy + j * COARSE_STEP_MM, turn + (degrees * Math.PI) / 180))
  for (let step = COARSE_STEP_MM / 2, bend = 0.012; step > 0.015; step /= 2, bend /= 2) {
    const { xMm, yMm, rotationRad } = place
    for (const r of [-1, 0, 1])
      for (const i of [-1, 0, 1]) for (const j of [-1, 0, 1]) consider(at(xMm + i * step, yMm + j * step, rotationRad + r * bend))
  }
  return { place, contrast }
}

/** Mean light over the face minus mean light over the grooves, with its sign. */
function probeContrast(light: LightField, toPx: ToPx, probes: readonly Probe[]): number {
  const { width, height } = light.photo
  let [dark, clear, darks, clears] = [0, 0, 0, 0]
  for (const probe of probes) {
    const [x, y] = toPx(probe.x, probe.y)
    const [column, row] = [Math.round(x), Math.round(y)]
    if (column < 0 || row < 0 || column >= width || row >= height) continue
    const value = lightAt(light, column, row)
    if (probe.void) {
      dark += value
      darks++
    } else {
      clear += value
      clears++
    }
  }
  return darks > 5 && clears > 5 ? clear / clears - dark / darks : 0
}
