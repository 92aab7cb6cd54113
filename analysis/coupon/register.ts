import { lightAt, type LightField } from '../image/light-field.js'
import type { GreyPicture } from '../image/shrink.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import { mapToPixels, type PixelMap } from '../image/region.js'
import type { CouponPlace, ToPx } from './plane-map.js'

/** How a coupon was laid or printed; only `upright` can be measured as it is. */
export type Orientation = 'upright' | 'turned' | 'mirrored' | 'turned-mirrored'

export interface Registration {
  readonly place: CouponPlace
  readonly orientation: Orientation
  /** Which parts are dark: grooves that took a wash, or lands that took ink. */
  readonly inking: 'grooves' | 'lands'
  /** Mean difference of light between what should be clear and what should be dark, share of the lighter of the two. */
  readonly contrast: number
  /** The same for the best orientation that was not chosen; 0 when the first tried was beyond doubt. */
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
  const add = addProbe.bind(undefined, probes)
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

function addProbe(probes: Probe[], isVoid: boolean, x: number, y: number, broad = false): void {
  probes.push({ x, y, void: isVoid, broad })
}

const REACH_MM = 2.4
const ROTATIONS_DEG = [-4.5, -3, -1.5, 0, 1.5, 3, 4.5]
const COARSE_STEP_MM = 0.3
/** How many rough places of each orientation are followed up. */
const CLIMBS = 2
/** Coupons laid or printed another way reach 0.35 at most on drawn photographs, inked ones as they should lie 0.8. */
const BEYOND_DOUBT = 0.6

/**
 * Finds how a coupon lies in its slot, by trying places, turns and both printings against the light at its probes.
 *
 * First in the shrunk picture, where one step is a third of a millimetre, then in the photograph.
 *
 * @param face card mm at the height of the coupon's face to pixels
 * @param aspect of the printed card, see `couponPlane`
 * @returns the best place with its contrast; the caller judges whether that is a coupon
 */
export function registerCoupon(
  light: LightField,
  shrunk: GreyPicture,
  face: ToPx,
  slot: Slot,
  coupon: CouponLayout,
  aspect: number,
): Registration {
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const centre = [slot.originMm[0] + middle[0], slot.originMm[1] + middle[1]] as const
  const all = registrationProbes(coupon)
  const probes = probeSet(all)
  const around = { x0: centre[0] - 24, x1: centre[0] + 24, y0: centre[1] - 10, y1: centre[1] + 10 }
  const lie: Lie = { map: mapToPixels(face, around), middle, aspect }
  const broad = probeSet(all.filter((probe) => probe.broad))
  const orientations = [
    ['upright', 0, false],
    ['turned', Math.PI, false],
    ['mirrored', 0, true],
    ['turned-mirrored', Math.PI, true],
  ] as const
  const follow = ([orientation, turn, mirrored]: (typeof orientations)[number]) => {
    const start = { xMm: centre[0], yMm: centre[1], rotationRad: turn, scale: 1, mirrored }
    const climbed = searchShrunk(shrunk, lie, start, broad)
      .map((place) => ({ place, contrast: probeContrast(light, lie, place, probes) }))
      .sort(strongest)
      .slice(0, CLIMBS)
      .map(({ place, contrast }) => climb(light, lie, probes, place, contrast))
    const [best = { place: start, contrast: 0 }] = climbed.sort(strongest)
    return { orientation, ...best }
  }
  const [upright, ...others] = orientations
  const first = follow(upright)
  // No coupon laid another way comes near this: the common case is settled with a quarter of the work.
  const found = Math.abs(first.contrast) > BEYOND_DOUBT ? [first] : [first, ...others.map(follow)].sort(strongest)
  const [best = first, second] = found
  return {
    place: best.place,
    orientation: best.orientation,
    inking: best.contrast > 0 ? 'grooves' : 'lands',
    contrast: Math.abs(best.contrast),
    rival: Math.abs(second?.contrast ?? 0),
  }
}

const strongest = (a: { contrast: number }, b: { contrast: number }) => Math.abs(b.contrast) - Math.abs(a.contrast)

/** The best shift at each turn, in whole pixels of the shrunk picture. Over the slot a shift in mm is the same one in pixels. */
function searchShrunk(
  { width, height, grey, factor }: GreyPicture,
  lie: Lie,
  centre: CouponPlace,
  probes: ProbeSet,
): CouponPlace[] {
  const { columns, rows, grooves } = probes
  const clears = columns.length - grooves
  const { x: px, y: py } = lie.map
  const places: CouponPlace[] = []
  // Pixels of the shrunk picture a millimetre.
  const [xx = 0, xy = 0, yx = 0, yy = 0] = [px[1], px[2], py[1], py[2]].map((perMm) => (perMm ?? 0) / factor)
  const determinant = xx * yy - xy * yx
  const pxPerMm = Math.sqrt(Math.abs(determinant))
  const step = Math.max(1, Math.round(COARSE_STEP_MM * pxPerMm))
  const reach = Math.ceil((REACH_MM * pxPerMm) / step) * step
  const spots = new Int32Array(columns.length)
  for (const degrees of ROTATIONS_DEG) {
    const turned = { ...centre, rotationRad: centre.rotationRad + (degrees * Math.PI) / 180 }
    placeProbes(lie, turned, probes)
    let [left, right, top, bottom] = [width, 0, height, 0]
    for (let k = 0; k < spots.length; k++) {
      const column = Math.floor((columns[k]! + 0.5) / factor)
      const row = Math.floor((rows[k]! + 0.5) / factor)
      spots[k] = row * width + column
      left = Math.min(left, column)
      right = Math.max(right, column)
      top = Math.min(top, row)
      bottom = Math.max(bottom, row)
    }
    let most = 0
    let [bestX, bestY] = [0, 0]
    for (let dy = -reach; dy <= reach; dy += step)
      for (let dx = -reach; dx <= reach; dx += step) {
        // A coupon that reaches out of the frame is not sought: the card's discs, further out, are all in it.
        if (left + dx < 0 || right + dx >= width || top + dy < 0 || bottom + dy >= height) continue
        const shift = dy * width + dx
        let dark = 0
        for (let k = 0; k < grooves; k++) dark += grey[spots[k]! + shift]!
        let clear = 0
        for (let k = grooves; k < spots.length; k++) clear += grey[spots[k]! + shift]!
        const score = Math.abs(clear / clears - dark / grooves)
        if (score > most) {
          most = score
          bestX = dx
          bestY = dy
        }
      }
    places.push({
      ...turned,
      xMm: centre.xMm + (yy * bestX - xy * bestY) / determinant,
      yMm: centre.yMm + (xx * bestY - yx * bestX) / determinant,
    })
  }
  return places
}

/** Steps to the best neighbour, halving the steps, from a third of a millimetre down to where probes notice nothing. */
function climb(
  light: LightField,
  lie: Lie,
  probes: ProbeSet,
  start: CouponPlace,
  startContrast: number,
): { place: CouponPlace; contrast: number } {
  let place = start
  let contrast = startContrast
  for (let step = COARSE_STEP_MM / 2, bend = 0.013; step > 0.015; step /= 2, bend /= 2) {
    const { xMm, yMm, rotationRad } = place
    for (const r of [-1, 0, 1])
      for (const i of [-1, 0, 1])
        for (const j of [-1, 0, 1]) {
          const candidate = { ...place, xMm: xMm + i * step, yMm: yMm + j * step, rotationRad: rotationRad + r * bend }
          const value = probeContrast(light, lie, candidate, probes)
          if (Math.abs(value) > Math.abs(contrast)) {
            contrast = value
            place = candidate
          }
        }
  }
  return { place, contrast }
}

/** What turns a place and a point of the coupon into a pixel. */
interface Lie {
  readonly map: PixelMap
  readonly middle: readonly [number, number]
  readonly aspect: number
}

/** Probes, those in grooves first; with room for where a place puts them, which is asked for some hundred times a coupon. */
interface ProbeSet {
  /** Shape (n), mm on the coupon. */
  readonly u: Float64Array
  readonly v: Float64Array
  readonly grooves: number
  /** Shape (n), pixels of the photograph, as `placeProbes` left them. */
  readonly columns: Float64Array
  readonly rows: Float64Array
}

function probeSet(probes: readonly Probe[]): ProbeSet {
  const ordered = [...probes.filter((probe) => probe.void), ...probes.filter((probe) => !probe.void)]
  return {
    u: Float64Array.from(ordered, ({ x }) => x),
    v: Float64Array.from(ordered, ({ y }) => y),
    grooves: probes.filter((probe) => probe.void).length,
    columns: new Float64Array(ordered.length),
    rows: new Float64Array(ordered.length),
  }
}

/** Fills in the pixels of the probes of a coupon that lies as given. */
function placeProbes({ map, middle, aspect }: Lie, place: CouponPlace, { u, v, columns, rows }: ProbeSet): void {
  const c = Math.cos(place.rotationRad) * place.scale
  const s = Math.sin(place.rotationRad) * place.scale
  const flip = place.mirrored ? -1 : 1
  const xMm = place.xMm - map.middleMm[0]
  const yMm = place.yMm - map.middleMm[1]
  const [x0 = 0, x1 = 0, x2 = 0, x3 = 0, x4 = 0, x5 = 0] = map.x
  const [y0 = 0, y1 = 0, y2 = 0, y3 = 0, y4 = 0, y5 = 0] = map.y
  for (let k = 0; k < u.length; k++) {
    const du = (u[k]! - middle[0]) * flip
    const dv = v[k]! - middle[1]
    const a = xMm + c * du - s * dv
    const b = yMm + (s * du + c * dv) / aspect
    columns[k] = x0 + a * (x1 + a * x3 + b * x4) + b * (x2 + b * x5)
    rows[k] = y0 + a * (y1 + a * y3 + b * y4) + b * (y2 + b * y5)
  }
}

/** Mean light over the face minus mean light over the grooves, with its sign, over the larger: blind to shade. */
function probeContrast(light: LightField, lie: Lie, place: CouponPlace, probes: ProbeSet): number {
  const { width, height } = light.photo
  const { columns, rows, grooves } = probes
  placeProbes(lie, place, probes)
  let dark = 0
  let clear = 0
  let darks = 0
  let clears = 0
  for (let k = 0; k < columns.length; k++) {
    const column = Math.round(columns[k]!)
    const row = Math.round(rows[k]!)
    if (column < 0 || row < 0 || column >= width || row >= height) continue
    const value = lightAt(light, column, row)
    if (k < grooves) {
      dark += value
      darks++
    } else {
      clear += value
      clears++
    }
  }
  if (darks < 6 || clears < 6) return 0
  const [face, hollow] = [clear / clears, dark / darks]
  return (face - hollow) / Math.max(face, hollow)
}
