import { linearRegression, max, mean, median, min, quantile } from 'simple-statistics'
import type { CouponLayout, RectMm } from '../../../analysis/layout/schema.js'
import type { FoundCoupon } from './coupon.js'

/** Of the step from land to groove: less is nothing there, or noise. */
const SEEN_SHARE = 0.1
/** In a narrower gap darkness and width are not told apart: as if dark throughout. */
const WIDE_GAP_UM = 300
/** A narrower one holds no ink that a phone could see. */
const LEAST_OPEN_UM = 20
const BESIDE_MM = 0.8

/** What both gratings of a coupon tell: growth, its own scale and place, light of land and groove. */
export interface Gratings {
  readonly growthUm: number
  readonly pxPerMm: number
  readonly shiftMm: number
  readonly land: number
  readonly groove: number
}

/** Groove widths at half level, the pitch as ruler; undefined when the number of grooves is not what was printed. */
export function readGratings(coupon: FoundCoupon, { gratings }: CouponLayout): Gratings | undefined {
  const [first, last] = [gratings[0]!, gratings.at(-1)!]
  const [x0, x1] = [first.x0Mm - BESIDE_MM, last.x0Mm + (last.grooves - 1) * last.pitchMm + last.grooveMm + BESIDE_MM]
  const light = coupon.profile({ x0, x1, y0: first.y0Mm + 0.7, y1: first.y1Mm - 0.7 }, 'x')
  const middle = (quantile([...light], 0.1) + quantile([...light], 0.9)) / 2
  const runs: { start: number; end: number }[] = []
  for (let i = 1; i < light.length; i++) {
    if (light[i]! < middle && light[i - 1]! >= middle) runs.push({ start: i, end: i })
    const open = runs.at(-1)
    if (open && light[i]! >= middle && light[i - 1]! < middle) open.end = i
  }
  const count = gratings.reduce((sum, { grooves }) => sum + grooves, 0)
  if (runs.length !== count || runs.some(({ start, end }) => end <= start)) return undefined
  const found = runs.map(({ start, end }, k) => {
    const landWidth = Math.round(0.4 * (end - start))
    const left = plateau(light, runs[k - 1]?.end ?? start - 2 * landWidth, start)
    const right = plateau(light, end, runs[k + 1]?.start ?? end + 2 * landWidth)
    return { edges: edgesOf(light, start, end, left, right), land: left, groove: plateau(light, start, end) }
  })
  let next = 0
  const each = gratings.map(({ grooves, pitchMm, grooveMm, x0Mm }) => {
    const edges = found.slice(next, (next += grooves)).map(({ edges }) => edges)
    const { m: pitch } = linearRegression(edges.map(([left, right], i) => [i, (left + right) / 2]))
    const width = mean(edges.map(([left, right]) => right - left))
    const middleMm = x0 + ((mean(edges.flat()) + 0.5) / light.length) * (x1 - x0)
    return {
      growthUm: ((grooveMm - (width * pitchMm) / pitch) / 2) * 1000,
      pxPerMm: pitch / pitchMm,
      shiftMm: middleMm - (x0Mm + ((grooves - 1) * pitchMm + grooveMm) / 2),
    }
  })
  const average = (of: 'growthUm' | 'pxPerMm' | 'shiftMm') => mean(each.map((grating) => grating[of]))
  return {
    growthUm: average('growthUm'),
    pxPerMm: average('pxPerMm'),
    shiftMm: average('shiftMm'),
    land: mean(found.map(({ land }) => land)),
    groove: mean(found.map(({ groove }) => groove)),
  }
}

/** Width of each gap along the build, um; null where it has closed. */
export function readGaps(coupon: FoundCoupon, { gaps }: CouponLayout, gratings: Gratings) {
  return Object.fromEntries(
    gaps.map(({ id, ...z }) => {
      const rect = shifted({ x0: z.x0Mm + 0.4, x1: z.x1Mm - 0.4, y0: z.y0Mm - 0.4, y1: z.y1Mm + 0.4 }, gratings)
      const light = coupon.profile(rect, 'y')
      const [below, above] = [median([...light.subarray(0, 5)]), median([...light.subarray(-5)])]
      const depth = Array.from(light, (value) => (below + above) / 2 - value)
      const alikeUm = ((1000 / gratings.pxPerMm) * mean(depth) * light.length) / (gratings.land - gratings.groove)
      if (alikeUm < WIDE_GAP_UM) return [id, alikeUm > LEAST_OPEN_UM ? alikeUm : null]
      const dark = depth.flatMap((value, i) => (value > max(depth) / 2 ? [i] : []))
      const [low, high] = edgesOf(light, dark[0]!, dark.at(-1)! + 1, below, above)
      return [id, ((high - low) / gratings.pxPerMm) * 1000]
    }),
  ) as Record<string, number | null>
}

/** How far the later-printed side of a gap sank: what is missing of the wide ones. */
export function printThroughUm({ gaps }: CouponLayout, found: Readonly<Record<string, number | null>>): number {
  return mean(
    gaps.flatMap(({ id, gapMm }) => {
      const widthUm = found[id] ?? 0
      return widthUm > WIDE_GAP_UM ? [1000 * gapMm - widthUm] : []
    }),
  )
}

/** Whether each isolated line stands and each isolated space is open, below what print-through has filled. */
export function findStanding(coupon: FoundCoupon, layout: CouponLayout, gratings: Gratings, sunkUm: number) {
  return Object.fromEntries(
    layout.isolated.map((f) => {
      const y1 = f.y1Mm - sunkUm / 1000 - 0.3
      const rect = shifted({ x0: f.x0Mm - 0.25, x1: f.x1Mm + 0.25, y0: f.y0Mm + 0.3, y1 }, gratings)
      const light = [...coupon.profile(rect, 'x')]
      const beside = median([...light.slice(0, 3), ...light.slice(-3)])
      const rise = f.kind === 'line' ? max(light) - beside : beside - min(light)
      return [f.id, rise > SEEN_SHARE * (gratings.land - gratings.groove)]
    }),
  ) as Record<string, boolean>
}

const shifted = ({ x0, x1, y0, y1 }: RectMm, { shiftMm }: Gratings): RectMm => ({
  x0: x0 + shiftMm,
  x1: x1 + shiftMm,
  y0,
  y1,
})

/** Mean light over the middle half from one place to another. */
function plateau(light: Float64Array, from: number, to: number): number {
  const margin = Math.floor((to - from) / 4)
  return mean(Array.from(light.subarray(from + margin, Math.max(from + margin + 1, to - margin))))
}

/** Where light crosses the middle between a dark run and what lies beside it, to parts of a pixel. */
function edgesOf(light: Float64Array, start: number, end: number, left: number, right: number): [number, number] {
  const dark = plateau(light, start, end)
  const crossing = (threshold: number, step: 1 | -1) => {
    let i = (start + end) >> 1
    while (light[i]! < threshold && i > 0 && i < light.length - 1) i += step
    return i - (step * (light[i]! - threshold)) / (light[i]! - light[i - step]!)
  }
  return [crossing((dark + left) / 2, -1), crossing((dark + right) / 2, 1)]
}
