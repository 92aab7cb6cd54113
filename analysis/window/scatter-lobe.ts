import erf from '@stdlib/math-base-special-erf'
import type { RegionMm } from '../image/region.js'
import type { BarTarget } from '../layout/schema.js'
import { shifted, targetCorner, type TargetPlan } from './target-cells.js'

/**
 * How light scattered by a window lands on the paper: density a^2 / (pi (a^2 + r^2)^2), half of it within the radius a.
 *
 * The distribution of microfacet slopes of Trowbridge and Reitz, whose tail lies between a normal distribution's and the
 * Henyey-Greenstein law of bulk scatter. Taken as a mixture of normal distributions, for which the share of a rectangle
 * is a product of error functions: variance a^2 / (2 E), E exponentially distributed with mean 1.
 *
 * @see B. Walter et al., Microfacet Models for Refraction through Rough Surfaces (EGSR 2007), eq. 33 [from memory]
 */
const NORMALS = 6
export const LOBE_VARIANCES = Array.from({ length: NORMALS }, (_, i) => -0.5 / Math.log(1 - (i + 0.5) / NORMALS))

const NARROWEST_MM = 0.03
const RATIO = 1.4
const WIDTHS_MM = Array.from({ length: 17 }, (_, i) => NARROWEST_MM * RATIO ** i)

/** A quantity at each tabled width of the lobe, by its index; worked out when first asked for: a search needs few. */
export type ByWidth = (index: number) => number

/** What scattered light shows of a target, for each width of the lobe. */
export interface LobeTable {
  /** Black coverage, a row a cell of the plan. */
  readonly cells: readonly ByWidth[]
  /** Share of their amplitude that the bars keep. */
  readonly fine: ByWidth
  readonly medium: ByWidth
  readonly across: ByWidth
  /** The same for light that layer lines spread along the build alone, a normal distribution of that deviation. */
  readonly smeared: {
    readonly cells: readonly ByWidth[]
    readonly fine: ByWidth
    readonly medium: ByWidth
    readonly across: ByWidth
  }
}

/** Share of scattered light that lands further off than a radius. */
export const shareBeyond = (radiusMm: number, widthMm: number): number => 1 / (1 + (radiusMm / widthMm) ** 2)

const tabled = new Map<string, LobeTable>()

/** Every card has the same target, so that the table is made once in a process. */
export function lobesOf(plan: TargetPlan, target: BarTarget): LobeTable {
  const key = JSON.stringify([plan, target.fine.pitchMm, target.medium.pitchMm, target.across.pitchMm])
  const table = tabled.get(key) ?? tableLobes(plan, target)
  tabled.set(key, table)
  return table
}

function tableLobes(plan: TargetPlan, target: BarTarget): LobeTable {
  const byWidth = (value: (widthMm: number) => number): ByWidth => {
    const known: number[] = []
    return (index) => (known[index] ??= value(WIDTHS_MM[index]!))
  }
  const amplitude = ({ pitchMm }: { pitchMm: number }) => byWidth((width) => lobeAmplitude(pitchMm, width))
  // Bars along the build lose to the paper beyond their ends.
  const [cornerX, cornerY] = targetCorner(target)
  const ends = (group: 'fine' | 'medium') => {
    const [seen, bars] = [plan.barsMm[group], shifted(target[group].areaMm, -cornerX, -cornerY)]
    return byWidth((deviation) => meanOfBlurred(seen.y0, seen.y1, bars.y0, bars.y1, deviation))
  }
  return {
    cells: plan.cells.map(({ areaMm }) => byWidth((width) => scatteredBlack(areaMm, plan.black, width))),
    fine: amplitude(target.fine),
    medium: amplitude(target.medium),
    across: amplitude(target.across),
    smeared: {
      cells: plan.cells.map(({ areaMm }) => byWidth((deviation) => smearedBlack(areaMm, plan.black, deviation))),
      fine: ends('fine'),
      medium: ends('medium'),
      across: byWidth((deviation) => Math.exp(-2 * ((Math.PI * deviation) / target.across.pitchMm) ** 2)),
    },
  }
}

/** Value and slope against ln(width), by a cubic through four neighbours (Catmull-Rom): a search needs a smooth slope. */
export function atWidth(row: ByWidth, logWidth: number): readonly [number, number] {
  const step = Math.log(RATIO)
  const place = Math.min(WIDTHS_MM.length - 2.000001, Math.max(1, (logWidth - Math.log(NARROWEST_MM)) / step))
  const i = Math.floor(place)
  const t = place - i
  const [a, b, c, d] = [row(i - 1), row(i), row(i + 1), row(i + 2)]
  const [first, second, third] = [c - a, 2 * a - 5 * b + 4 * c - d, 3 * (b - c) + d - a]
  return [b + 0.5 * t * (first + t * (second + t * third)), (0.5 * (first + t * (2 * second + 3 * t * third))) / step]
}

/** Amplitude that bars keep in scattered light, the lobe's Fourier transform k a K1(k a) at k = 2 pi / pitch. */
export const lobeAmplitude = (pitchMm: number, widthMm: number): number =>
  LOBE_VARIANCES.reduce((sum, v) => sum + Math.exp(-2 * v * ((Math.PI * widthMm) / pitchMm) ** 2), 0) / NORMALS

/** Mean black coverage of a cell seen in scattered light of one width. */
export function scatteredBlack(cell: RegionMm, black: readonly RegionMm[], widthMm: number): number {
  let sum = 0
  for (const variance of LOBE_VARIANCES) {
    const s = widthMm * Math.sqrt(variance)
    let [y0, y1, share] = [NaN, NaN, 0]
    for (const r of black) {
      // Bars of one group share their rows.
      if (r.y0 !== y0 || r.y1 !== y1) share = meanOfBlurred(cell.y0, cell.y1, r.y0, r.y1, s)
      ;[y0, y1] = [r.y0, r.y1]
      sum += share * meanOfBlurred(cell.x0, cell.x1, r.x0, r.x1, s)
    }
  }
  return sum / NORMALS
}

/** Mean black coverage of a cell blurred along y alone. */
function smearedBlack(cell: RegionMm, black: readonly RegionMm[], deviationMm: number): number {
  const overlap = (r: RegionMm) => Math.max(0, Math.min(cell.x1, r.x1) - Math.max(cell.x0, r.x0)) / (cell.x1 - cell.x0)
  return black.reduce(
    (sum, r) => sum + (overlap(r) && overlap(r) * meanOfBlurred(cell.y0, cell.y1, r.y0, r.y1, deviationMm)),
    0,
  )
}

/** Mean over the range a to b of a stripe from p to q blurred with deviation s. */
function meanOfBlurred(a: number, b: number, p: number, q: number, s: number): number {
  const part = (edge: number) => integralOfNormal(b - edge, s) - integralOfNormal(a - edge, s)
  return (part(p) - part(q)) / (b - a)
}

/** Integral of the normal distribution function of deviation s, from minus infinity to x. */
function integralOfNormal(x: number, s: number): number {
  const z = x / s
  if (z > 8) return x
  if (z < -8) return 0
  return 0.5 * x * (1 + erf(z * Math.SQRT1_2)) + (s / Math.sqrt(2 * Math.PI)) * Math.exp(-0.5 * z * z)
}
