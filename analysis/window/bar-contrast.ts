import { lightAt, type LightField } from '../image/light-field.js'
import { mapRegion, visitRows, type RegionMm } from '../image/region.js'
import type { ToPx } from '../coupon/plane-map.js'
import type { BarTarget } from '../layout/schema.js'

export interface BarContrast {
  /** Amplitude of the bars' fundamental, light. */
  readonly amplitude: number
  /** Their mean light. */
  readonly mean: number
}

/**
 * Amplitude and mean of upright bars by a Fourier sum over whole periods under a Hann window.
 *
 * One period is left out of those printed: half at each end keeps blur and a small error of place outside.
 */
export function barContrast(light: LightField, toPx: ToPx, bars: BarTarget['fine']): BarContrast {
  const { pitchMm, periods, areaMm } = bars
  const x0 = areaMm.x0 + 0.25 * pitchMm
  const width = (periods - 1) * pitchMm
  const region = { x0, x1: x0 + width, y0: areaMm.y0 + 0.5, y1: areaMm.y1 - 0.5 }
  let [re, im, sum, total] = [0, 0, 0, 0]
  visitRows(mapRegion(toPx, region), region, light.photo, (row, first, last, x) => {
    // Sums of its own for each row: a number that two functions share is a new object whenever it changes.
    let rowRe = 0
    let rowIm = 0
    let rowSum = 0
    let rowTotal = 0
    for (let column = first; column <= last; column++) {
      const xMm = x[0]! + column * (x[1]! + column * x[2]!)
      const weight = 1 - Math.cos((2 * Math.PI * (xMm - x0)) / width)
      const weighted = weight * lightAt(light, column, row)
      const phase = (2 * Math.PI * xMm) / pitchMm
      rowRe += weighted * Math.cos(phase)
      rowIm += weighted * Math.sin(phase)
      rowSum += weighted
      rowTotal += weight
    }
    re += rowRe
    im += rowIm
    sum += rowSum
    total += rowTotal
  })
  return { amplitude: (2 * Math.hypot(re, im)) / total, mean: sum / total }
}

/** Mean light of a patch, half a millimetre clear of its border. */
export function patchLight(light: LightField, toPx: ToPx, { x0, y0, x1, y1 }: RegionMm): number {
  const region = { x0: x0 + 0.5, x1: x1 - 0.5, y0: y0 + 0.6, y1: y1 - 0.6 }
  let [sum, n] = [0, 0]
  visitRows(mapRegion(toPx, region), region, light.photo, (row, first, last) => {
    let rowSum = 0
    for (let column = first; column <= last; column++) rowSum += lightAt(light, column, row)
    sum += rowSum
    n += last - first + 1
  })
  return sum / Math.max(1, n)
}

/** Mean of one colour channel over a patch, in linear light. @param channel 0 red, 1 green, 2 blue */
export function channelLight(
  { photo }: LightField,
  table: Float32Array,
  toPx: ToPx,
  { x0, y0, x1, y1 }: RegionMm,
  channel: 0 | 1 | 2,
): number {
  const region = { x0: x0 + 0.5, x1: x1 - 0.5, y0: y0 + 0.6, y1: y1 - 0.6 }
  let [sum, n] = [0, 0]
  visitRows(mapRegion(toPx, region), region, photo, (row, first, last) => {
    let rowSum = 0
    for (let column = first; column <= last; column++)
      rowSum += table[photo.rgb[3 * (row * photo.width + column) + channel]!]!
    sum += rowSum
    n += last - first + 1
  })
  return sum / Math.max(1, n)
}
