import { quantileSorted } from 'simple-statistics'
import type { ReadRung } from '../../analysis/index.js'
import { linearFromSrgb } from '../../analysis/image/linear-light.js'
import type { PhotoTruth } from '../support/drawn-photo.js'
import { DEFAULT_CARD, DEFAULT_SENSOR, type DrawPhotoOptions } from '../support/drawn/options.js'
import { encodeSrgb } from '../support/drawn/processing.js'
import { edgeBound } from './bound.js'
import { rounded, type PhotoRecord } from './records.js'

const LUMA = [0.299, 0.587, 0.114]
/** What the reader leaves out at either end of the grooves and beside them, mm. */
const END_MM = 0.35
const SIDE_MM = 0.3

/**
 * Variance of a pixel's luma in linear light, signal 1 at full scale: shot and read noise of three channels, each rounded
 * to eight bits of sRGB. Channels are taken as equally bright.
 */
function lumaVariance(signal: number): number {
  const { fullWellE, readNoiseE } = DEFAULT_SENSOR
  const code = encodeSrgb(signal)
  const perCode = linearFromSrgb(Math.min(1, code + 1 / 255)) - linearFromSrgb(code)
  const channel = signal / fullWellE + (readNoiseE / fullWellE) ** 2 + perCode ** 2 / 12
  return channel * LUMA.reduce((sum, weight) => sum + weight ** 2, 0)
}

/** Mean line width of each grating of a repeat: its error, and the least standard deviation that its noise allows. */
export function meansAgainstBound(
  rung: ReadRung,
  truth: PhotoTruth,
  { layout }: DrawPhotoOptions,
): NonNullable<PhotoRecord['means']> {
  const growthUm = truth.slots.find(({ slot }) => slot === rung.slot)?.growthUm ?? NaN
  return rung.gratings.map(({ group, pitchMm, growthUm: read, blurPx, profile }) => {
    const grating = layout.coupon.gratings.find((candidate) => candidate.group === group)
    if (!grating || !profile) throw new Error(`no profile of ${group}`)
    const { grooves, grooveMm, x0Mm, y0Mm, y1Mm } = grating
    const mmPerPx = rung.umPerPx / 1000
    const edges = Array.from({ length: grooves }, (_, i) => x0Mm + i * pitchMm).flatMap((x) => [
      x + growthUm / 1000,
      x + grooveMm - growthUm / 1000,
    ])
    const sorted = [...profile.fitted].sort((a, b) => a - b)
    const [dark, light] = [quantileSorted(sorted, 0.1), quantileSorted(sorted, 0.9)]
    const paperSignal = DEFAULT_CARD.paper * DEFAULT_SENSOR.exposure
    const boundMm = edgeBound(
      {
        edges,
        levels: Array.from({ length: edges.length + 1 }, (_, i) => (i % 2 === 0 ? light : dark)),
        blur: blurPx * mmPerPx,
        from: x0Mm - SIDE_MM,
        to: x0Mm + (grooves - 1) * pitchMm + grooveMm + SIDE_MM,
        samplesPerLength: (y1Mm - y0Mm - 2 * END_MM) / mmPerPx ** 2,
        variance: (level) => lumaVariance(level * paperSignal) / paperSignal ** 2,
      },
      edges.map((_, j) => (j % 2 === 0 ? -1 : 1) / grooves),
    )
    // A line is as much too wide as its two sides grew.
    return { pitchMm, errorUm: rounded(2 * (read.value - growthUm)), boundUm: rounded(1000 * boundMm) }
  })
}
