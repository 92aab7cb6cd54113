import { channelTable, SRGB_TONE, type Tone } from '../image/linear-light.js'
import type { RegionMm } from '../image/region.js'
import type { Photo } from '../image/decode.js'
import type { Sharpening } from '../image/sharpening.js'
import { countPixels, countUnsharpened, meanLight } from './code-counts.js'
import type { ReadLadder } from '../result.js'
import type { CardLayout, TonePatch } from '../layout/schema.js'
import { minimizeSquares, type LeastSquaresFit } from '../statistics/levenberg-marquardt.js'
import type { ToPx } from '../coupon/plane-map.js'

export interface FittedTone {
  readonly tone: Tone
  /** How far printed black spreads beyond each edge, um. */
  readonly inkGainUm: number
  /** Root mean square misfit of the patches, share of paper light. */
  readonly residual: number
  /** Covariance of the exponent's logarithm and the contrast, shape (2, 2), row by row; widened where patches fit worse. */
  readonly covariance: readonly [number, number, number, number]
  /** Mean light of the paper beside the patches, by the fitted curve. */
  readonly paperLight: number
  readonly patches: ReadLadder['tone']['patches']
}

/** Patches obey additivity to 0.0003 on drawn photographs; paper and path-traced noise add to it. */
const PATCH_SPREAD = 0.001
/** Mean square misfit, of such spreads, at which no other start is tried: plain photographs leave 2 at most, wrong turns 40. */
const GOOD_ENOUGH = 3
/** Nor is one tried when a fit betters the one it starts from, and that was no wrong turn. */
const RIGHT_TURN = 10
const EXPONENT_SPREAD = 0.15
const CONTRAST_SPREAD = 0.25
const INK_GAIN_SPREAD_MM = 0.02
/** For the derivatives by the exponent's logarithm and the contrast; of both, light bends little over it. */
const STEP = 0.002
const CODE_SHARES = Float32Array.from({ length: 256 }, (_, i) => i / 255)
/** Where the ink's spread starts: short of closing the card's finest lines, and beyond, between which a fit cannot pass. */
const STARTS_MM = [0.01, 0.025]

/**
 * Tone curve of this very photograph, from the card's line gratings.
 *
 * Light adds up: a grating of black share c sends back 1 - c (1 - K) of the paper's light, whatever the blur. The curve
 * is the one under which mean light obeys this on all patches. Ink that spreads by d at each edge adds 2 d / pitch to c;
 * coverages at two pitches each tell it from the curve.
 *
 * @param card card millimetres at height 0 to pixels
 * @param sharpening what the camera did to the code values after its tone curve
 * @param near a fit to start from too
 * @returns sRGB itself when the patches do not contradict it
 */
export function fitTone(
  photo: Photo,
  layout: CardLayout,
  card: ToPx,
  sharpening?: Sharpening,
  near?: FittedTone,
): FittedTone {
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
      const spread = coverage + (2 * (p[2] ?? 0)) / pitchMm
      const inked = Math.min(1, spread)
      return {
        readLight: reflectance(grating),
        expectedLight: 1 - inked * (1 - black),
        expectedByGain: spread < 1 ? (-2 / pitchMm) * (1 - black) : 0,
      }
    })
  }
  const describe = (p: ArrayLike<number>) =>
    compare(p).map((light, i) => {
      const { patch, inside } = gratings[i]!
      return {
        coverage: patch.coverage,
        pitchMm: patch.pitchMm ?? 1,
        codeValue: meanLight(inside, CODE_SHARES),
        readLight: light.readLight,
        expectedLight: light.expectedLight,
      }
    })
  /** Once every line touches the next, any curve will do that turns what is there into black. */
  const someOpen = (p: ArrayLike<number>) => compare(p).some(({ expectedByGain }) => expectedByGain !== 0)
  const paperLight = (tone: Tone) => {
    const table = channelTable(tone)
    const sides = gratings.flatMap(({ above, below }) => [meanLight(above, table), meanLight(below, table)])
    return sides.reduce((sum, light) => sum + light, 0) / sides.length
  }
  const from = (start: readonly number[]) =>
    minimizeSquares(
      (parameters, residuals, jacobian) => {
        const here = compare(parameters)
        const shifted = [0, 1].map((k) => {
          const ahead = Float64Array.from(parameters)
          ahead[k]! += STEP
          return compare(ahead)
        })
        here.forEach((light, i) => {
          residuals[i] = (light.readLight - light.expectedLight) / PATCH_SPREAD
          for (const [k, ahead] of shifted.entries()) {
            const misfit = (ahead[i]!.readLight - ahead[i]!.expectedLight) / PATCH_SPREAD
            jacobian[3 * i + k] = (misfit - residuals[i]) / STEP
          }
          jacobian[3 * i + 2] = -light.expectedByGain / PATCH_SPREAD
        })
      },
      start,
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
  const starts = STARTS_MM.map((gainMm) => [0, 0, gainMm])
  if (near) starts.unshift([Math.log(near.tone.exponent), near.tone.contrast, near.inkGainUm / 1000])
  const before = near ? (near.residual / PATCH_SPREAD) ** 2 : Infinity
  const goodEnough = gratings.length * (before < RIGHT_TURN ? Math.max(GOOD_ENOUGH, before) : GOOD_ENOUGH)
  let best: LeastSquaresFit | undefined
  for (const start of starts) {
    if (best && best.rss < goodEnough) break
    const fit = from(start)
    if (fit.ok && someOpen(fit.value.parameters) && !(best && best.rss <= fit.value.rss)) best = fit.value
  }
  if (!best) {
    const tone = SRGB_TONE
    const covariance = [EXPONENT_SPREAD ** 2, 0, 0, CONTRAST_SPREAD ** 2] as const
    return { tone, inkGainUm: 0, residual: NaN, covariance, paperLight: paperLight(tone), patches: describe([0, 0, 0]) }
  }
  const [logExponent = 0, contrast = 0, gain = 0] = best.parameters
  const misfit = Math.sqrt(best.residuals.reduce((sum, r) => sum + r * r, 0) / gratings.length)
  const c = best.unscaledCovariance
  const wider = Math.max(1, misfit) ** 2
  const tone = { exponent: Math.exp(logExponent), contrast }
  return {
    tone,
    inkGainUm: gain * 1000,
    residual: PATCH_SPREAD * misfit,
    covariance: [wider * c[0]!, wider * c[1]!, wider * c[3]!, wider * c[4]!],
    paperLight: paperLight(tone),
    patches: describe(best.parameters),
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
