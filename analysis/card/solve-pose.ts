import type { CardLayout } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import { circleImageCentre, distort, planeHomography, type CameraPose } from './camera-pose.js'
import type { DiscCentre } from './disc-centre.js'

export interface SolvedPose {
  readonly pose: CameraPose
  /** Discs the pose rests on; those that lay far off (covered in part, a shadow's edge) are left out. */
  readonly used: readonly DiscCentre[]
  /** Root mean square distance of those discs from the pose, px per coordinate. */
  readonly residualPx: number
}

/** Middle of what a phone's lenses have, in widths of the frame: 26 to 77 mm equivalent on 36 mm. */
const USUAL_FOCAL_WIDTHS = 1.25
const USUAL_FOCAL_SPREAD = 0.5
/** A file's own focal length is rounded to whole millimetres, and some programs crop the frame. */
const STATED_FOCAL_SPREAD = 0.03
/** Office printers differ in their two scales by some tenths of a per cent; common practice, no source. */
const ASPECT_SPREAD = 0.004
const K1_SPREAD = 0.05
/** Disc centres scatter by 0.02-0.05 px and lie where the printer put them within about 10 um. */
const DISC_SPREAD_PX = 0.15
/** A disc further from the pose than this many times the others' typical distance is left out. */
const OUTLIER_RATIO = 5

type Frame = { readonly width: number; readonly height: number; readonly focalPx?: number }

/**
 * Camera pose, print aspect and radial distortion from the centres of the card's discs.
 *
 * Least squares over focal length, rotation, translation, aspect and k1, the weakly determined ones held by priors: seen
 * straight from above, focal length and distance are one. The disc's image is taken as the ellipse it is.
 *
 * @param homography card mm to pixels, rough
 * @param frame size of the photograph and its focal length in pixels, if known
 * @returns the pose, or a refusal: `pose-not-found`
 */
export function solvePose(
  discs: readonly DiscCentre[],
  card: CardLayout,
  homography: readonly number[],
  frame: Frame,
): Outcome<SolvedPose> {
  let used = discs
  for (let round = 0; ; round++) {
    const solved = solveOnce(used, card, homography, frame)
    if (!solved) return notFound('the fit does not settle')
    const plane = planeHomography(solved, 0)
    const distances = used.map((disc) => discResidual(solved, plane, disc, card)).map(([x, y]) => Math.hypot(x, y))
    const typical = [...distances].sort((a, b) => a - b)[Math.floor(distances.length / 2)] ?? 0
    const worst = Math.max(...distances)
    if (round >= 3 || used.length <= 8 || worst < Math.max(0.3, OUTLIER_RATIO * typical)) {
      const squares = distances.reduce((sum, d) => sum + d * d, 0)
      const residualPx = Math.sqrt(squares / Math.max(1, 2 * used.length - 9))
      if (residualPx > 6) return notFound(`discs lie ${residualPx.toFixed(1)} px from the best pose`)
      return { ok: true, value: { pose: solved, used, residualPx } }
    }
    used = used.filter((_, i) => (distances[i] ?? 0) < worst)
  }
}

const notFound = (detail: string) =>
  refuse('pose-not-found', 'Lay the card flat, all discs uncovered, and photograph it again from above.', detail)

function discResidual(
  pose: CameraPose,
  plane: readonly number[],
  { index, px }: DiscCentre,
  card: CardLayout,
): [number, number] {
  const { xMm = 0, yMm = 0, diameterMm = 0 } = card.fiducials[index] ?? {}
  const [x, y] = distort(pose, ...circleImageCentre(plane, xMm, yMm, diameterMm / 2))
  return [x - px[0], y - px[1]]
}

function solveOnce(
  discs: readonly DiscCentre[],
  card: CardLayout,
  homography: readonly number[],
  frame: Frame,
): CameraPose | undefined {
  const longer = Math.max(frame.width, frame.height)
  const focalStart = frame.focalPx ?? USUAL_FOCAL_WIDTHS * longer
  const start = decomposeHomography(homography, focalStart, frame)
  const poseAt = (p: ArrayLike<number>): CameraPose => ({
    ...start,
    focalPx: focalStart * Math.exp(p[0] ?? 0),
    rotation: rotate([p[1] ?? 0, p[2] ?? 0, p[3] ?? 0], start.rotation),
    // Distance goes with focal length, so that the prior on one does not fight the discs through the other.
    translationMm: [
      start.translationMm[0] + (p[4] ?? 0),
      start.translationMm[1] + (p[5] ?? 0),
      start.translationMm[2] * Math.exp((p[6] ?? 0) + (p[0] ?? 0)),
    ],
    aspect: Math.exp(p[7] ?? 0),
    k1: p[8] ?? 0,
  })
  const residualsAt = (p: ArrayLike<number>, out: Float64Array) => {
    const pose = poseAt(p)
    const plane = planeHomography(pose, 0)
    for (const [i, disc] of discs.entries()) {
      const [x, y] = discResidual(pose, plane, disc, card)
      out[2 * i] = x / DISC_SPREAD_PX
      out[2 * i + 1] = y / DISC_SPREAD_PX
    }
  }
  // Each moves a disc by some thousandths of a pixel: small enough for one-sided differences, far above rounding.
  const steps = [1e-6, 1e-6, 1e-6, 1e-6, 1e-4, 1e-4, 1e-6, 1e-6, 1e-6]
  const ahead = new Float64Array(2 * discs.length)
  const fit = minimizeSquares(
    (parameters, residuals, jacobian) => {
      residualsAt(parameters, residuals)
      const moved = Float64Array.from(parameters)
      for (const [k, step] of steps.entries()) {
        const here = parameters[k] ?? 0
        moved[k] = here + step
        residualsAt(moved, ahead)
        moved[k] = here
        for (let i = 0; i < ahead.length; i++) jacobian[i * steps.length + k] = (ahead[i]! - residuals[i]!) / step
      }
    },
    new Float64Array(steps.length),
    2 * discs.length,
    {
      priors: [
        { index: 0, mean: 0, standardUncertainty: frame.focalPx ? STATED_FOCAL_SPREAD : USUAL_FOCAL_SPREAD },
        { index: 7, mean: 0, standardUncertainty: ASPECT_SPREAD },
        { index: 8, mean: 0, standardUncertainty: K1_SPREAD },
      ],
      maximumIterations: 60,
      tolerance: 1e-6,
    },
  )
  return fit.ok ? poseAt(fit.value.parameters) : undefined
}

/** Rotation matrix of a small rotation vector (Rodrigues) times another matrix, row by row. */
function rotate([x, y, z]: readonly [number, number, number], r: readonly number[]): number[] {
  const angle = Math.hypot(x, y, z)
  const a = angle < 1e-12 ? 1 : Math.sin(angle) / angle
  const b = angle < 1e-12 ? 0.5 : (1 - Math.cos(angle)) / (angle * angle)
  const k = [0, -z, y, z, 0, -x, -y, x, 0]
  const k2 = multiply(k, k)
  return multiply(
    k.map((v, i) => (i % 4 === 0 ? 1 : 0) + a * v + b * (k2[i] ?? 0)),
    r,
  )
}

const multiply = (a: readonly number[], b: readonly number[]): number[] =>
  Array.from({ length: 9 }, (_, i) => {
    const [row, column] = [i - (i % 3), i % 3]
    return a[row]! * b[column]! + a[row + 1]! * b[column + 3]! + a[row + 2]! * b[column + 6]!
  })

/** Pose from a homography when the focal length is given (Zhang 2000, 10.1109/34.888718), axes made orthogonal. */
function decomposeHomography(h: readonly number[], focalPx: number, { width, height }: Frame): CameraPose {
  const [cx, cy] = [(width - 1) / 2, (height - 1) / 2]
  const column = (k: number) => {
    const w = h[6 + k] ?? 0
    return [((h[k] ?? 0) - cx * w) / focalPx, ((h[3 + k] ?? 0) - cy * w) / focalPx, w] as const
  }
  const [a, b, t] = [column(0), column(1), column(2)]
  const scale = 2 / (Math.hypot(...a) + Math.hypot(...b)) / (t[2] < 0 ? -1 : 1)
  const unit = (v: readonly number[]) => v.map((c) => c / Math.hypot(...v))
  const cross = (u: readonly number[], v: readonly number[]) =>
    [0, 1, 2].map((i) => (u[(i + 1) % 3] ?? 0) * (v[(i + 2) % 3] ?? 0) - (u[(i + 2) % 3] ?? 0) * (v[(i + 1) % 3] ?? 0))
  const first = unit(a.map((c) => c * scale))
  const third = unit(
    cross(
      first,
      b.map((c) => c * scale),
    ),
  )
  const second = cross(third, first)
  return {
    focalPx,
    rotation: [0, 1, 2].flatMap((i) => [first[i] ?? 0, second[i] ?? 0, third[i] ?? 0]),
    translationMm: [t[0] * scale, t[1] * scale, t[2] * scale],
    aspect: 1,
    k1: 0,
    centrePx: [cx, cy],
    halfDiagonalPx: Math.hypot(width, height) / 2,
  }
}
