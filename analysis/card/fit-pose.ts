import type { CardLayout } from '../layout/schema.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import { circleImageCentre, distort, planeHomography, type CameraPose } from './camera-pose.js'
import type { DiscCentre } from './disc-centre.js'
import { pressOfPoints } from './press.js'
import { poseFromHomography, type Frame } from './start-pose.js'

/** What is fitted beyond focal length, place, turn, print aspect and k1. */
export interface PoseModel {
  readonly k2: boolean
  /** The paper's middle standing up, as a bow along x and one along y. */
  readonly bow: boolean
}

export interface FittedPose {
  readonly pose: CameraPose
  /** Standard uncertainty of the print's aspect. */
  readonly aspectUncertainty: number
  /** Relative standard uncertainty of the focal length. */
  readonly focalUncertainty: number
  /** Height of the card's middle over its edges, mm, by the bow along x and along y, with standard uncertainties. */
  readonly bowMm: readonly { readonly value: number; readonly standardUncertainty: number }[]
  /** Shape (discs): seen less fitted, px. */
  readonly residualsPx: readonly (readonly [number, number])[]
  /** Sum of squared distances of each disc from the pose that all others give, in units of the discs' spread. */
  readonly press: number
}

/** Middle of what a phone's lenses have, in widths of the frame: 26 to 77 mm equivalent on 36 mm. */
const USUAL_FOCAL_WIDTHS = 1.25
const USUAL_FOCAL_SPREAD = 0.5
/** A file's own focal length is rounded to whole millimetres, and some programs crop the frame. */
const STATED_FOCAL_SPREAD = 0.03
/** Office printers differ in their two scales by some tenths of a per cent; common practice, no source. */
const ASPECT_SPREAD = 0.004
const K1_SPREAD = 0.05
const K2_SPREAD = 0.03
/** Paper that lies by itself curls by some millimetres; common practice, no source. */
const BOW_SPREAD_MM = 2
/** Disc centres scatter by 0.02-0.05 px and lie where the printer put them within about 10 um. */
const DISC_SPREAD_PX = 0.15

/** Index of each parameter; those of the model's options follow. */
const FOCAL = 0
const ASPECT = 7
const K1 = 8

/**
 * Least squares over focal length, rotation, translation, aspect, k1 and what the model adds, the weakly determined ones
 * held by priors: seen straight from above, focal length and distance are one. A disc's image is taken as the ellipse it is.
 *
 * @param homography card mm to pixels, rough
 * @returns undefined when the fit does not settle
 */
export function fitPose(
  discs: readonly DiscCentre[],
  card: CardLayout,
  homography: readonly number[],
  frame: Frame,
  model: PoseModel,
): FittedPose | undefined {
  const longer = Math.max(frame.width, frame.height)
  const focalStart = frame.focalPx ?? USUAL_FOCAL_WIDTHS * longer
  const start = poseFromHomography(homography, focalStart, frame)
  const k2 = model.k2 ? K1 + 1 : -1
  const bow = model.bow ? K1 + (model.k2 ? 2 : 1) : -1
  const count = K1 + 1 + Number(model.k2) + 2 * Number(model.bow)
  // Each moves a disc by some thousandths of a pixel: small enough for one-sided differences, far above rounding.
  const steps = Array.from({ length: count }, (_, k) => (k === 4 || k === 5 || (bow > 0 && k >= bow) ? 1e-4 : 1e-6))
  const problem: PoseProblem = { discs, card, start, k2, bow, steps, ahead: new Float64Array(2 * discs.length) }
  const evaluate = evaluatePose.bind(undefined, problem)
  const prior = (index: number, standardUncertainty: number) => ({ index, mean: 0, standardUncertainty })
  const fit = minimizeSquares(evaluate, new Float64Array(count), 2 * discs.length, {
    priors: [
      prior(FOCAL, frame.focalPx ? STATED_FOCAL_SPREAD : USUAL_FOCAL_SPREAD),
      prior(ASPECT, ASPECT_SPREAD),
      prior(K1, K1_SPREAD),
      ...(model.k2 ? [prior(k2, K2_SPREAD)] : []),
      ...(model.bow ? [prior(bow, BOW_SPREAD_MM), prior(bow + 1, BOW_SPREAD_MM)] : []),
    ],
    maximumIterations: 60,
    tolerance: 1e-6,
  })
  if (!fit.ok) return undefined
  const { parameters, unscaledCovariance: covariance } = fit.value
  const residuals = new Float64Array(2 * discs.length)
  const jacobian = new Float64Array(residuals.length * count)
  evaluate(parameters, residuals, jacobian)
  const pose = poseAt(problem, parameters)
  const spread = (k: number) => Math.sqrt(covariance[k * count + k] ?? 0)
  return {
    pose,
    aspectUncertainty: pose.aspect * spread(ASPECT),
    focalUncertainty: spread(FOCAL),
    bowMm: model.bow ? [bow, bow + 1].map((k) => ({ value: parameters[k] ?? 0, standardUncertainty: spread(k) })) : [],
    residualsPx: discs.map((_, i) => [residuals[2 * i]! * DISC_SPREAD_PX, residuals[2 * i + 1]! * DISC_SPREAD_PX]),
    press: pressOfPoints(residuals, jacobian, covariance, count),
  }
}

interface PoseProblem {
  readonly discs: readonly DiscCentre[]
  readonly card: CardLayout
  /** Where parameters are all 0. */
  readonly start: CameraPose
  /** Index of these parameters; -1 where the model has none. */
  readonly k2: number
  readonly bow: number
  /** Of each parameter, for its derivative. */
  readonly steps: readonly number[]
  /** Room for the residuals there. */
  readonly ahead: Float64Array
}

function evaluatePose(problem: PoseProblem, p: Float64Array, residuals: Float64Array, jacobian: Float64Array): void {
  const { steps, ahead } = problem
  seenLessFitted(problem, p, residuals)
  const moved = Float64Array.from(p)
  for (let k = 0; k < steps.length; k++) {
    const [here, step] = [p[k]!, steps[k]!]
    moved[k] = here + step
    seenLessFitted(problem, moved, ahead)
    moved[k] = here
    for (let i = 0; i < ahead.length; i++) jacobian[i * steps.length + k] = (ahead[i]! - residuals[i]!) / step
  }
}

function seenLessFitted(problem: PoseProblem, p: Float64Array, out: Float64Array): void {
  const { discs, card, bow } = problem
  const pose = poseAt(problem, p)
  const flat = planeHomography(pose, 0)
  for (const [i, { index, px }] of discs.entries()) {
    const { xMm = 0, yMm = 0, diameterMm = 0 } = card.fiducials[index] ?? {}
    const plane = bow > 0 ? planeHomography(pose, heightMm(card, xMm, yMm, p[bow] ?? 0, p[bow + 1] ?? 0)) : flat
    const [x, y] = distort(pose, ...circleImageCentre(plane, xMm, yMm, diameterMm / 2))
    out[2 * i] = (px[0] - x) / DISC_SPREAD_PX
    out[2 * i + 1] = (px[1] - y) / DISC_SPREAD_PX
  }
}

function poseAt({ start, k2 }: PoseProblem, p: Float64Array): CameraPose {
  const [focal = 0, x = 0, y = 0, z = 0, right = 0, down = 0, away = 0] = p
  return {
    ...start,
    focalPx: start.focalPx * Math.exp(focal),
    rotation: rotate([x, y, z], start.rotation),
    // Distance goes with focal length, so that the prior on one does not fight the discs through the other.
    translationMm: [
      start.translationMm[0] + right,
      start.translationMm[1] + down,
      start.translationMm[2] * Math.exp(away + focal),
    ],
    aspect: Math.exp(p[ASPECT]!),
    k1: p[K1]!,
    k2: p[k2] ?? 0,
  }
}

/** Paper that stands up in its middle, as a parabola along x and one along y. */
function heightMm({ sizeMm }: CardLayout, xMm: number, yMm: number, alongX: number, alongY: number): number {
  return alongX * (1 - ((2 * xMm) / sizeMm.x) ** 2) + alongY * (1 - ((2 * yMm) / sizeMm.y) ** 2)
}

/** Rotation matrix of a small rotation vector (Rodrigues) times another matrix, row by row. */
function rotate([x, y, z]: readonly [number, number, number], r: readonly number[]): number[] {
  const angle = Math.hypot(x, y, z)
  const a = angle < 1e-12 ? 1 : Math.sin(angle) / angle
  const b = angle < 1e-12 ? 0.5 : (1 - Math.cos(angle)) / (angle * angle)
  const k = [0, -z, y, z, 0, -x, -y, x, 0]
  const turn = multiply(k, k)
  for (let i = 0; i < 9; i++) turn[i] = (i % 4 === 0 ? 1 : 0) + a * k[i]! + b * turn[i]!
  return multiply(turn, r)
}

function multiply(a: readonly number[], b: readonly number[]): number[] {
  const product: number[] = []
  for (let row = 0; row < 9; row += 3)
    for (let column = 0; column < 3; column++)
      product.push(a[row]! * b[column]! + a[row + 1]! * b[column + 3]! + a[row + 2]! * b[column + 6]!)
  return product
}
