import { lightAt, type LightField } from '../image/light-field.js'
import type { GreyPicture } from '../image/shrink.js'
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

/** A place on the coupon whose light is compared. */
interface Probe {
  readonly x: number
  readonly y: number
  readonly void: boolean
  /** In a feature broad enough to be seen in the shrunk picture. */
  readonly broad: boolean
}

/**
 * Places well inside large grooves, and places on the face well away from them but inside the ink pad.
 *
 * Few and far from edges, so that growth does not move them in or out: gaps of 0.6 mm and more (their lower, earlier
 * half: print-through fills them from above), the key, and the broad grooves of the combs.
 */
function registrationProbes(coupon: CouponLayout): Probe[] {
  const { key, gaps, prisms, gratings } = coupon
  const probes: Probe[] = []
  const add = (isVoid: boolean, x: number, y: number, broad = false) => probes.push({ x, y, void: isVoid, broad })
  for (const fx of [0.25, 0.5, 0.75])
    for (const fy of [0.2, 0.4, 0.6])
      add(true, key.x0Mm + fx * (key.x1Mm - key.x0Mm), key.y0Mm + fy * (key.y1Mm - key.y0Mm), true)
  for (const gap of gaps) {
    const xs = [0.2, 0.5, 0.8].map((f) => gap.x0Mm + f * (gap.x1Mm - gap.x0Mm))
    for (const x of xs) {
      if (gap.gapMm >= 1) for (const y of [0.2, 0.45, 0.7]) add(true, x, gap.y0Mm + Math.min(y, gap.gapMm / 2), true)
      add(false, x, gap.y0Mm - 0.45, true)
    }
  }
  for (const { id, polygon } of prisms)
    if (id.startsWith('line-comb')) {
      const xs = polygon.map(([x]) => x)
      const ys = polygon.map(([, y]) => y)
      const middle = (Math.min(...xs) + Math.max(...xs)) / 2
      for (const f of [0.2, 0.4, 0.6])
        add(true, middle, Math.min(...ys) + f * (Math.max(...ys) - Math.min(...ys)), true)
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
  for (const x of [7, 9, 11, 13, 16, 19, 22]) add(false, x, 7.75, true)
  for (const y of [3, 5, 7]) add(false, 2.1, y, true)
  return probes
}

const REACH_MM = 2.4
const ROTATIONS_DEG = [-4.5, -3, -1.5, 0, 1.5, 3, 4.5]
const COARSE_STEP_MM = 0.3
/** How many rough places of each orientation are followed up. */
const CLIMBS = 2

type Score = (place: CouponPlace) => number

/**
 * Finds how a coupon lies in its slot, by trying places, turns and both printings against the light at its probes.
 *
 * First in the shrunk picture, where one step is a third of a millimetre, then in the photograph.
 *
 * @param face card mm at the height of the coupon's face to pixels
 * @param paperLight light of bare paper near the slot
 * @returns the best place with its contrast; the caller judges whether that is a coupon
 */
export function registerCoupon(
  light: LightField,
  shrunk: GreyPicture,
  face: ToPx,
  slot: Slot,
  coupon: CouponLayout,
  { aspect, paperLight }: { readonly aspect: number; readonly paperLight: number },
): Registration {
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const centre = [slot.originMm[0] + middle[0], slot.originMm[1] + middle[1]] as const
  const probes = registrationProbes(coupon)
  const fine: Score = (place) => probeContrast(light, couponPlane(face, place, middle, aspect), probes) / paperLight
  const broad = probes.filter((probe) => probe.broad)
  const orientations = [
    ['upright', 0, false],
    ['turned', Math.PI, false],
    ['mirrored', 0, true],
    ['turned-mirrored', Math.PI, true],
  ] as const
  const found = orientations.map(([orientation, turn, mirrored]) => {
    const start = { xMm: centre[0], yMm: centre[1], rotationRad: turn, scale: 1, mirrored }
    const rough = searchShrunk(shrunk, face, start, middle, aspect, broad)
      .map((place) => ({ place, contrast: fine(place) }))
      .sort(strongest)
    const [best = { place: start, contrast: 0 }] = rough
      .slice(0, CLIMBS)
      .map(({ place, contrast }) => climb(fine, place, contrast))
      .sort(strongest)
    return { orientation, ...best }
  })
  const [best, second] = found.sort(strongest)
  if (!best || !second) throw new RangeError('registerCoupon needs four orientations to compare, got fewer')
  return {
    place: best.place,
    orientation: best.orientation,
    inking: best.contrast > 0 ? 'grooves' : 'lands',
    contrast: Math.abs(best.contrast),
    rival: Math.abs(second.contrast),
  }
}

const strongest = (a: { contrast: number }, b: { contrast: number }) => Math.abs(b.contrast) - Math.abs(a.contrast)

/** The best shift at each turn, in the shrunk picture. Over the slot a shift in mm is the same shift in pixels. */
function searchShrunk(
  { width, height, grey, factor }: GreyPicture,
  face: ToPx,
  centre: CouponPlace,
  middle: readonly [number, number],
  aspect: number,
  probes: readonly Probe[],
): CouponPlace[] {
  const [ox, oy] = face(centre.xMm, centre.yMm)
  const [ax, ay] = face(centre.xMm + COARSE_STEP_MM, centre.yMm)
  const [bx, by] = face(centre.xMm, centre.yMm + COARSE_STEP_MM)
  const reach = Math.ceil(REACH_MM / COARSE_STEP_MM)
  // Grooves first, face after: two plain sums in the inner loop.
  const ordered = [...probes].sort((a, b) => Number(b.void) - Number(a.void))
  const grooves = ordered.filter((probe) => probe.void).length
  const columns = new Float64Array(ordered.length)
  const rows = new Float64Array(ordered.length)
  return ROTATIONS_DEG.map((degrees) => {
    let best = { place: centre, score: 0 }
    const turned = { ...centre, rotationRad: centre.rotationRad + (degrees * Math.PI) / 180 }
    const toPx = couponPlane(face, turned, middle, aspect)
    for (const [k, probe] of ordered.entries()) {
      const [x, y] = toPx(probe.x, probe.y)
      columns[k] = (x + 0.5) / factor
      rows[k] = (y + 0.5) / factor
    }
    for (let i = -reach; i <= reach; i++)
      for (let j = -reach; j <= reach; j++) {
        const dx = (i * (ax - ox) + j * (bx - ox)) / factor
        const dy = (i * (ay - oy) + j * (by - oy)) / factor
        let [dark, clear] = [0, 0]
        for (let k = 0; k < columns.length; k++) {
          const column = (columns[k]! + dx) | 0
          const row = (rows[k]! + dy) | 0
          if (column < 0 || row < 0 || column >= width || row >= height) continue
          if (k < grooves) dark += grey[row * width + column]!
          else clear += grey[row * width + column]!
        }
        const score = Math.abs(clear / (columns.length - grooves) - dark / grooves)
        if (score > best.score)
          best = {
            score,
            place: { ...turned, xMm: centre.xMm + i * COARSE_STEP_MM, yMm: centre.yMm + j * COARSE_STEP_MM },
          }
      }
    return best.place
  })
}

/** Steps to the best neighbour, halving the steps, from a third of a millimetre down to where probes notice nothing. */
function climb(score: Score, start: CouponPlace, startContrast: number): { place: CouponPlace; contrast: number } {
  let place = start
  let contrast = startContrast
  for (let step = COARSE_STEP_MM / 2, bend = 0.013; step > 0.015; step /= 2, bend /= 2) {
    const { xMm, yMm, rotationRad } = place
    for (const r of [-1, 0, 1])
      for (const i of [-1, 0, 1])
        for (const j of [-1, 0, 1]) {
          const candidate = { ...place, xMm: xMm + i * step, yMm: yMm + j * step, rotationRad: rotationRad + r * bend }
          const value = score(candidate)
          if (Math.abs(value) > Math.abs(contrast)) {
            contrast = value
            place = candidate
          }
        }
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
