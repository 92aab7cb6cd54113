import { mean, sampleStandardDeviation } from 'simple-statistics'
import type { ToPx } from '../coupon/plane-map.js'
import { lightAt, type LightField } from '../image/light-field.js'
import { mapPart, mapRegion, rowsOf, type RegionMap, type RegionMm } from '../image/region.js'
import type { BarTarget } from '../layout/schema.js'
import type { Estimate } from '../statistics/estimate.js'
import { meanLight } from './patch-light.js'
import { shifted, targetCorner, type BarGroup, type TargetPlan } from './target-cells.js'

/** What one target, bare or through a window, shows. Light is linear, on the sensor's scale. */
export interface MeasuredTarget {
  /** Mean light of each cell of the plan, in its order. */
  readonly cells: readonly Estimate[]
  /** Amplitude of the fundamental of each bar group. */
  readonly fine: Estimate
  readonly medium: Estimate
  readonly across: Estimate
}

/** Bars are summed in this many pieces along themselves; what the pieces disagree by is the type A uncertainty. */
const BLOCKS = 6
/** Pixels of one part in so many of a period count as one place: that shortens every amplitude, bare or not, by 0.04 %. */
const PLACES_PER_PERIOD = 64

/** Measures every cell and bar group of a target whose card millimetres `toPx` maps to pixels. */
export function measureTarget(light: LightField, toPx: ToPx, target: BarTarget, plan: TargetPlan): MeasuredTarget {
  const corner = targetCorner(target)
  const areas = plan.cells.map(({ areaMm }) => shifted(areaMm, ...corner))
  const whole = mapRegion(toPx, {
    x0: Math.min(...areas.map(({ x0 }) => x0)),
    x1: Math.max(...areas.map(({ x1 }) => x1)),
    y0: Math.min(...areas.map(({ y0 }) => y0)),
    y1: Math.max(...areas.map(({ y1 }) => y1)),
  })
  const measured = (group: BarGroup, axis: 'x' | 'y') => {
    const region = shifted(plan.barsMm[group], ...corner)
    return measureBars(light, mapPart(whole, toPx, region), region, target[group].pitchMm, axis)
  }
  const bars = { fine: measured('fine', 'x'), medium: measured('medium', 'x'), across: measured('across', 'y') }
  return {
    cells: plan.cells.map(({ group }, i) =>
      // The scatter of a plain mean would count the bars themselves.
      group === 'fine' || group === 'medium'
        ? bars[group].level
        : meanLight(light, mapPart(whole, toPx, areas[i]!), areas[i]!),
    ),
    fine: bars.fine.amplitude,
    medium: bars.medium.amplitude,
    across: bars.across.amplitude,
  }
}

/** Mean light of a grating, and the amplitude of its fundamental. */
interface Bars {
  readonly level: Estimate
  readonly amplitude: Estimate
}

/**
 * A grating's level and fundamental: least squares of a constant and a sinusoid under a Hann window.
 *
 * The fit, not a plain Fourier sum, because bars across fill one and a half periods only.
 *
 * @param axis along which the grating repeats
 */
function measureBars(field: LightField, map: RegionMap, region: RegionMm, pitchMm: number, axis: 'x' | 'y'): Bars {
  const [from, to] = axis === 'x' ? [region.x0, region.x1] : [region.y0, region.y1]
  const [low, high] = axis === 'x' ? [region.y0, region.y1] : [region.x0, region.x1]
  const places = Math.ceil(((to - from) / pitchMm) * PLACES_PER_PERIOD)
  const light = new Float64Array(BLOCKS * places)
  const pixels = new Float64Array(BLOCKS * places)
  const isX = axis === 'x'
  const { count, runs, mm } = rowsOf(map, region, field.photo)
  for (let k = 0; k < count; k++) {
    const row = runs[3 * k]!
    const last = runs[3 * k + 2]!
    const at = 6 * k
    for (let column = runs[3 * k + 1]!; column <= last; column++) {
      const xMm = mm[at]! + column * (mm[at + 1]! + column * mm[at + 2]!)
      const yMm = mm[at + 3]! + column * (mm[at + 4]! + column * mm[at + 5]!)
      const along = ((isX ? xMm : yMm) - from) / pitchMm
      const across = ((isX ? yMm : xMm) - low) / (high - low)
      const block = Math.min(BLOCKS - 1, (across * BLOCKS) | 0)
      const i = block * places + Math.min(places - 1, (along * PLACES_PER_PERIOD) | 0)
      light[i]! += lightAt(field, column, row)
      pixels[i]!++
    }
  }
  // Of the weight, and of the weighted light, times 1, cosine, sine and their products.
  const sums = Array.from({ length: BLOCKS }, () => new Float64Array(9))
  for (let place = 0; place < places; place++) {
    const along = ((place + 0.5) / PLACES_PER_PERIOD) * pitchMm
    const hann = 1 - Math.cos((2 * Math.PI * along) / (to - from))
    const phase = (2 * Math.PI * along) / pitchMm
    const cos = Math.cos(phase)
    const sin = Math.sin(phase)
    for (let block = 0; block < BLOCKS; block++) {
      const s = sums[block]!
      const weight = hann * pixels[block * places + place]!
      const lit = hann * light[block * places + place]!
      s[0]! += weight
      s[1]! += weight * cos
      s[2]! += weight * sin
      s[3]! += weight * cos * cos
      s[4]! += weight * cos * sin
      s[5]! += weight * sin * sin
      s[6]! += lit
      s[7]! += lit * cos
      s[8]! += lit * sin
    }
  }
  const waves = sums.map(wave).filter((found) => found !== undefined)
  const total = new Float64Array(9)
  for (const s of sums) for (let i = 0; i < 9; i++) total[i]! += s[i]!
  const all = wave(total)
  if (!all || waves.length < 2) {
    const nothing = { value: 0, standardUncertainty: 0 }
    return { level: nothing, amplitude: nothing }
  }
  const size = Math.hypot(all.cosine, all.sine)
  return {
    level: overBlocks(waves.map(({ constant }) => constant)),
    // Of each block what is in phase with the whole: noise across the phase does not lengthen it.
    amplitude: overBlocks(waves.map(({ cosine, sine }) => (cosine * all.cosine + sine * all.sine) / size)),
  }
}

const overBlocks = (values: number[]): Estimate => ({
  value: mean(values),
  standardUncertainty: sampleStandardDeviation(values) / Math.sqrt(values.length),
})

interface Wave {
  readonly constant: number
  readonly cosine: number
  readonly sine: number
}

/** The best sinusoid beside a constant, by Cramer's rule; `sums` as filled by `measureBars`. */
function wave(sums: Float64Array): Wave | undefined {
  const [w = 0, c = 0, s = 0, cc = 0, cs = 0, ss = 0, l = 0, lc = 0, ls = 0] = sums
  const [a, b, d] = [cc - (c * c) / w, cs - (c * s) / w, ss - (s * s) / w]
  const [e, f] = [lc - (l * c) / w, ls - (l * s) / w]
  const determinant = a * d - b * b
  if (!(determinant > 0)) return undefined
  const [cosine, sine] = [(e * d - f * b) / determinant, (f * a - e * b) / determinant]
  return { constant: (l - cosine * c - sine * s) / w, cosine, sine }
}
