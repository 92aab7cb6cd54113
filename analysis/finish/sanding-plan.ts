import { refuse, type Refusal } from '../outcome.js'
import { ASSUMED, assumed, type Assumed } from './assumed.js'
import { coatGain, twoFaces, type CoatGain } from './coat.js'
import { GRITS, type Grit, type GritScale } from './grains.js'
import { layerStep, layersPerMm, type LayerStep } from './layer-step.js'
import { scatteredShare } from './rough-surface.js'

export interface SandingRequest {
  readonly layerUm: number
  /** Between wall and build plate. */
  readonly wallDegrees: number
  /** Default 0: pixel steps are left out. */
  readonly pixelUm?: number | undefined
  /** Scale of the sheets at hand. P ends at 8.4 um; finer steps are then named in JIS. */
  readonly scale: GritScale
  /** Grain of one step over that of the next, at most. Default 2; 1.5 to 2 is common practice, no source. */
  readonly ratio?: number | undefined
  /** Of the cured resin. Default 1.52. */
  readonly index?: number | undefined
  /** Of the coat that follows; absent for a part left bare. */
  readonly coatIndex?: number | undefined
  /** Share of scattered light at which one stops, both faces. Default 0.05. */
  readonly acceptedHaze?: number | undefined
}

type Range = readonly [number, number]

export interface SandingStep extends Grit {
  /** To take off before the next step: the marks of the last one, um. */
  readonly stockUm: Range
  /** Depth of the marks that it leaves, um. */
  readonly marksUm: Range
  /** Root mean square of the scratches left, um. */
  readonly rmsUm: Range
  /** Share of light scattered by both faces, left as they are. */
  readonly bareHaze: Range
  /** The same under the coat. */
  readonly coatedHaze?: Range | undefined
}

export interface SandingPlan {
  readonly step: LayerStep
  readonly layersPerMm: number
  readonly steps: readonly SandingStep[]
  /** Place in `steps` after which to stop; absent when no sheet is fine enough and polish must follow. */
  readonly stopAfter?: number
  /** What the coat wins after the last step. */
  readonly gain?: CoatGain
  /** What the plan took because nobody gave it. */
  readonly assumed: readonly Assumed[]
  readonly warnings: readonly Refusal[]
}

const DEFAULT_RATIO = 2
const DEFAULT_HAZE = 0.05

/**
 * Grits from the steps of the layers to a face that is clear enough, bare or under a coat.
 *
 * Starts with the finest grain that is at least as large as the steps are high (common practice, no source), then takes
 * the finest grain within the ratio each time. Stops where the higher end of the expected haze is within what is
 * accepted: under a coat that is much sooner than bare.
 *
 * @throws {RangeError} if the ratio is not above 1, or from `layerStep`
 */
export function planSanding(request: SandingRequest): SandingPlan {
  const { layerUm, wallDegrees, pixelUm, scale, coatIndex } = request
  const { ratio = DEFAULT_RATIO, index = ASSUMED.index.value, acceptedHaze = DEFAULT_HAZE } = request
  if (!(ratio > 1 && ratio < Infinity)) throw new RangeError(`planSanding needs a ratio above 1, got ${ratio}`)
  const step = layerStep(layerUm, wallDegrees, pixelUm)
  const steps: SandingStep[] = []
  let stopAfter: number | undefined
  for (const grit of sequence(step.heightUm, scale, ratio)) {
    const before = steps.at(-1)
    const rmsUm = shareOf(grit, ASSUMED.scratchShare.value)
    const haze = (indexStep: number) => rmsUm.map((rms) => twoFaces(scatteredShare(rms, indexStep))) as [number, number]
    const bareHaze = haze(index - 1)
    const coatedHaze = coatIndex === undefined ? undefined : haze(Math.abs(index - coatIndex))
    const marksUm = shareOf(grit, ASSUMED.markShare.value)
    const stockUm: Range = before ? before.marksUm : [step.heightUm, step.heightUm]
    steps.push({ ...grit, stockUm, marksUm, rmsUm, bareHaze, ...(coatedHaze && { coatedHaze }) })
    if ((coatedHaze ?? bareHaze)[1] <= acceptedHaze) {
      stopAfter = steps.length - 1
      break
    }
  }
  const last = steps.at(-1)
  return {
    step,
    layersPerMm: layersPerMm(layerUm),
    steps,
    ...(stopAfter !== undefined && { stopAfter }),
    ...(coatIndex !== undefined && last && { gain: coatGain(last.rmsUm, index, coatIndex) }),
    assumed: assumed('scratchShare', 'markShare', ...(request.index === undefined ? (['index'] as const) : [])),
    warnings: warningsOf(steps, stopAfter),
  }
}

const shareOf = ({ grainUm }: Grit, [low, high]: Range): Range => [low * grainUm, high * grainUm]

/** Grits in turn, each the finest within the ratio of the last. */
function* sequence(heightUm: number, scale: GritScale, ratio: number): Generator<Grit> {
  const finest = GRITS.P.at(-1)!.grainUm
  const grits = scale === 'JIS' ? GRITS.JIS : [...GRITS.P, ...GRITS.JIS.filter(({ grainUm }) => grainUm < finest)]
  let grit = grits.findLast(({ grainUm }) => grainUm >= heightUm) ?? grits[0]!
  while (true) {
    yield grit
    const last = grit
    const next = grits.findLast(({ grainUm }) => grainUm < last.grainUm && grainUm >= last.grainUm / ratio)
    const finer = next ?? grits.find(({ grainUm }) => grainUm < last.grainUm)
    if (!finer) return
    grit = finer
  }
}

function warningsOf(steps: readonly SandingStep[], stopAfter: number | undefined): Refusal[] {
  const scales = new Set(steps.map(({ scale }) => scale))
  return [
    refuse(
      'scratch-depth-guessed',
      'Wet the face to see what is left: water hides the scratches a coat will hide. Trust that more than the numbers.',
    ).refusal,
    ...(scales.size > 1
      ? [
          refuse(
            'two-scales',
            'Mind the scale on the sheet: equal numbers of P and JIS are different grains.',
            'P ends at 8.4 um; finer steps are named in JIS',
          ).refusal,
        ]
      : []),
    ...(stopAfter === undefined
      ? [
          refuse(
            'polish-follows',
            'Finish with a polish below 1 um grain, or coat: no sheet in the table leaves as little haze as wanted.',
          ).refusal,
        ]
      : []),
  ]
}
