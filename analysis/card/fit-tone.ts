import { channelTable, lumaIndex, LUMA_STEPS, SRGB_TONE, type Tone } from '../image/linear-light.js'
import { mapRegion, visitRows, type RegionMm } from '../image/region.js'
import type { Photo } from '../image/decode.js'
import type { Sharpening } from '../image/sharpening.js'
import { edgeProfile } from '../lines/edge-profile.js'
import type { ReadLadder } from '../result.js'
import type { CardLayout, TonePatch } from '../layout/schema.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import type { ToPx } from '../coupon/plane-map.js'

export interface FittedTone {
  readonly tone: Tone
  /** How far printed black spreads beyond each edge, um. */
  readonly inkGainUm: number
  /** Root mean square misfit of the patches, share of paper light. */
  readonly residual: number
  /** Mean light of the paper beside the patches, by the fitted curve. */
  readonly paperLight: number
  readonly patches: ReadLadder['tone']['patches']
}

/** Patches obey additivity to 0.0003 on drawn photographs; paper and path-traced noise add to it. */
const PATCH_SPREAD = 0.001
const EXPONENT_SPREAD = 0.15
const CONTRAST_SPREAD = 0.25
const INK_GAIN_SPREAD_MM = 0.02
const CODES = 256
const CODE_SHARES = Float32Array.from({ length: CODES }, (_, i) => i / (CODES - 1))

/** A patch as weighted counts of code values: its mean light follows at once for any tone curve. */
interface CodeCounts {
  readonly counts: Float64Array
  readonly total: number
}

/**
 * Tone curve of this very photograph, from the card's line gratings.
 *
 * Light adds up: a grating of black share c sends back 1 - c (1 - K) of the paper's light, whatever the blur. The curve
 * is the one under which mean light obeys this on all patches. Ink that spreads by d at each edge adds 2 d / pitch to c;
 * coverages at two pitches each tell it from the curve.
 *
 * @param card card millimetres at height 0 to pixels
 * @param sharpening what the camera did to the code values after its tone curve
 * @returns sRGB itself when the patches do not contradict it
 */
export function fitTone(photo: Photo, layout: CardLayout, card: ToPx, sharpening?: Sharpening): FittedTone {
  const countCodes = (region: RegionMm) =>
    sharpening ? countUnsharpened(photo, card, region, sharpening) : countPixels(photo, card, region)
  const patches = layout.tone.map((patch) => ({
    patch,
    inside: countCodes(inset(patch)),
    above: countCodes(beside(patch, 'above')),
    below: countCodes(beside(patch, 'below')),
  }))
  const solid = patches.find(({ patch }) => patch.coverage === 1)
  const gratings = patches.filter(({ patch }) => patch.pitchMm !== undefined)
  const compare = (p: ArrayLike<number>) => {
    const table = channelTable({ exponent: Math.exp(p[0] ?? 0), contrast: p[1] ?? 0 })
    const reflectance = ({ inside, above, below }: (typeof patches)[number]) =>
      meanLight(inside, table) / (0.5 * (meanLight(above, table) + meanLight(below, table)))
    const black = solid ? reflectance(solid) : 0
    return gratings.map((grating) => {
      const { coverage, pitchMm = 1 } = grating.patch
      // Lines that touch leave no paper: ink covers no more than all.
      const inked = Math.min(1, coverage + (2 * (p[2] ?? 0)) / pitchMm)
      return { readLight: reflectance(grating), expectedLight: 1 - inked * (1 - black) }
    })
  }
  const misfits = (p: ArrayLike<number>, out: Float64Array): void => {
    for (const [i, { readLight, expectedLight }] of compare(p).entries())
      out[i] = (readLight - expectedLight) / PATCH_SPREAD
  }
  const describe = (p: ArrayLike<number>) =>
    compare(p).map((light, i) => {
      const { patch, inside } = gratings[i]!
      return {
        coverage: patch.coverage,
        pitchMm: patch.pitchMm ?? 1,
        codeValue: meanLight(inside, CODE_SHARES),
        ...light,
      }
    })
  const paperLight = (tone: Tone) => {
    const table = channelTable(tone)
    const sides = gratings.flatMap(({ above, below }) => [meanLight(above, table), meanLight(below, table)])
    return sides.reduce((sum, light) => sum + light, 0) / sides.length
  }
  // Bars that the camera resolves tell the ink by themselves, whatever the curve: from there, lines that touch stay so.
  const startingGainMm = () => {
    const coarsest = gratings.reduce((most, { patch }) => Math.max(most, patch.pitchMm ?? 0), 0)
    const i = gratings.findIndex(({ patch }) => patch.pitchMm === coarsest)
    const [at] = compare([0, 0, 0]).slice(i)
    if (!at || at.expectedLight >= 1) return 0
    const { coverage } = gratings[i]!.patch
    const inked = (coverage * (1 - at.readLight)) / (1 - at.expectedLight)
    return ((inked - coverage) * coarsest) / 2
  }
  const steps = [0.01, 0.01, 0.001]
  const ahead = new Float64Array(gratings.length)
  const behind = new Float64Array(gratings.length)
  const fit = minimizeSquares(
    (parameters, residuals, jacobian) => {
      misfits(parameters, residuals)
      for (const [k, step] of steps.entries()) {
        const shifted = Float64Array.from(parameters)
        shifted[k] = (parameters[k] ?? 0) + step
        misfits(shifted, ahead)
        shifted[k] = (parameters[k] ?? 0) - step
        misfits(shifted, behind)
        for (let i = 0; i < ahead.length; i++)
          jacobian[i * steps.length + k] = ((ahead[i] ?? 0) - (behind[i] ?? 0)) / (2 * step)
      }
    },
    [0, 0, startingGainMm()],
    gratings.length,
    {
      priors: [
        { index: 0, mean: 0, standardUncertainty: EXPONENT_SPREAD },
        { index: 1, mean: 0, standardUncertainty: CONTRAST_SPREAD },
        { index: 2, mean: 0, standardUncertainty: INK_GAIN_SPREAD_MM },
      ],
      maximumIterations: 40,
      tolerance: 1e-3,
    },
  )
  if (!fit.ok) {
    const tone = SRGB_TONE
    return { tone, inkGainUm: 0, residual: NaN, paperLight: paperLight(tone), patches: describe([0, 0, 0]) }
  }
  const [logExponent = 0, contrast = 0, gain = 0] = fit.value.parameters
  const left = new Float64Array(gratings.length)
  misfits(fit.value.parameters, left)
  const residual = PATCH_SPREAD * Math.sqrt(left.reduce((sum, r) => sum + r * r, 0) / left.length)
  const tone = { exponent: Math.exp(logExponent), contrast }
  return {
    tone,
    inkGainUm: gain * 1000,
    residual,
    paperLight: paperLight(tone),
    patches: describe(fit.value.parameters),
  }
}

/** Whole periods of both pitches, clear of the patch's border by a blur. */
const inset = ({ areaMm: { x0, y0, x1, y1 } }: TonePatch): RegionMm => {
  const middle = (x0 + x1) / 2
  const half = (x1 - x0) * (5 / 12)
  return { x0: middle - half, x1: middle + half, y0: y0 + 0.5, y1: y1 - 0.5 }
}

const beside = (patch: TonePatch, side: 'above' | 'below'): RegionMm => {
  const { x0, x1 } = inset(patch)
  const { y0, y1 } = patch.areaMm
  return side === 'above' ? { x0, x1, y0: y1 + 0.35, y1: y1 + 1.25 } : { x0, x1, y0: y0 - 1.25, y1: y0 - 0.35 }
}

/** Hann window over a region's width, in steps far finer than a pixel: a cosine a pixel would cost as much as all else. */
const HANN_STEPS = 512
const HANN = Float64Array.from({ length: HANN_STEPS + 1 }, (_, i) => 1 - Math.cos((2 * Math.PI * i) / HANN_STEPS))

/** Codes in a region, weighted across x by a Hann window: over whole periods it leaves nothing of their phase. */
function countPixels(photo: Photo, toPx: ToPx, region: RegionMm): CodeCounts {
  const counts = new Float64Array(CODES)
  let total = 0
  const perMm = HANN_STEPS / (region.x1 - region.x0)
  const { rgb } = photo
  visitRows(mapRegion(toPx, region), region, photo, (row, first, last, x) => {
    let rowTotal = 0
    for (let column = first, i = 3 * (row * photo.width + first); column <= last; column++, i += 3) {
      const xMm = x[0]! + column * (x[1]! + column * x[2]!)
      const weight = HANN[((xMm - region.x0) * perMm + 0.5) | 0]!
      const quarters = lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)
      // Shared between the two whole codes about it.
      const code = quarters >> 2
      const part = (quarters & 3) / 4
      counts[code]! += weight * (1 - part)
      if (part > 0) counts[code + 1]! += weight * part
      rowTotal += weight
    }
    total += rowTotal
  })
  return { counts, total }
}

/** The same for a picture whose sharpening is known: of the codes' profile across the lines, freed of it. */
function countUnsharpened(photo: Photo, toPx: ToPx, region: RegionMm, sharpening: Sharpening): CodeCounts {
  const counts = new Float64Array(CODES + 1)
  let total = 0
  const { positionMm, light, count } = edgeProfile({ photo, table: CODE_OF_LUMA, sharpening }, toPx, region, 'x', 1)
  const perMm = HANN_STEPS / (region.x1 - region.x0)
  for (let i = 0; i < light.length; i++) {
    const weight = count[i]! * HANN[((positionMm[i]! - region.x0) * perMm + 0.5) | 0]!
    const code = Math.floor(light[i]!)
    const part = light[i]! - code
    counts[code]! += weight * (1 - part)
    counts[code + 1]! += weight * part
    total += weight
  }
  return { counts: counts.subarray(0, CODES), total }
}

const CODE_OF_LUMA = Float32Array.from({ length: LUMA_STEPS + 1 }, (_, i) => i / 4)

function meanLight({ counts, total }: CodeCounts, table: Float32Array): number {
  let sum = 0
  for (let i = 0; i < counts.length; i++) sum += counts[i]! * table[i]!
  return sum / Math.max(total, 1e-9)
}
