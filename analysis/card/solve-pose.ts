import type { CardLayout } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import type { CameraPose } from './camera-pose.js'
import type { DiscCentre } from './disc-centre.js'
import { fitPose, type FittedPose } from './fit-pose.js'
import type { Frame } from './start-pose.js'

export interface SolvedPose {
  readonly pose: CameraPose
  /** Standard uncertainty of the print's aspect. */
  readonly aspectUncertainty: number
  /** Relative standard uncertainty of the focal length: large when the card is seen straight from above. */
  readonly focalUncertainty: number
  /** Discs the pose rests on; those that lay far off (covered in part, a shadow's edge) are left out. */
  readonly used: readonly DiscCentre[]
  /** Shape (used): seen less fitted, px. */
  readonly residualsPx: readonly (readonly [number, number])[]
  /** Root mean square distance of those discs from the pose, px per coordinate. */
  readonly residualPx: number
  /** How far the card's middle stands over its edges, mm, when the discs show a bow; up is positive. */
  readonly bowMm?: number
}

/** A disc further from the pose than this many times the others' typical distance is left out. */
const OUTLIER_RATIO = 5
/** Discs on a flat card scatter by less, px; above it a bow is looked for. */
const FLAT_RESIDUAL_PX = 0.1
/** A bow must halve what is left of discs predicted from the others, and stand out of its own uncertainty. */
const BOW_GAIN = 0.5
const BOW_RATIO = 3

/**
 * Camera pose, print aspect and radial distortion from the centres of the card's discs.
 *
 * k1 always; k2 when with it each disc is better predicted from all the others. A bowed card is told, not corrected:
 * widths have their own ruler in the coupon.
 *
 * @param homography card mm to pixels, rough
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
    const fitted = fitBest(used, card, homography, frame)
    if (!fitted) return notFound('the fit does not settle')
    const distances = fitted.residualsPx.map(([x, y]) => Math.hypot(x, y))
    const typical = [...distances].sort((a, b) => a - b)[Math.floor(distances.length / 2)] ?? 0
    const worst = Math.max(...distances)
    if (round >= 3 || used.length <= 8 || worst < Math.max(0.3, OUTLIER_RATIO * typical)) {
      const squares = distances.reduce((sum, d) => sum + d * d, 0)
      const residualPx = Math.sqrt(squares / Math.max(1, 2 * used.length - (fitted.pose.k2 === 0 ? 9 : 10)))
      if (residualPx > 6) return notFound(`discs lie ${residualPx.toFixed(1)} px from the best pose`)
      const { pose, aspectUncertainty, focalUncertainty, residualsPx } = fitted
      const bowMm = residualPx > FLAT_RESIDUAL_PX ? findBow(fitted, used, card, homography, frame) : undefined
      return {
        ok: true,
        value: {
          pose,
          aspectUncertainty,
          focalUncertainty,
          used,
          residualsPx,
          residualPx,
          ...(bowMm === undefined ? {} : { bowMm }),
        },
      }
    }
    used = used.filter((_, i) => (distances[i] ?? 0) < worst)
  }
}

const notFound = (detail: string) =>
  refuse('pose-not-found', 'Lay the card flat, all discs uncovered, and photograph it again from above.', detail)

function fitBest(...to: [readonly DiscCentre[], CardLayout, readonly number[], Frame]): FittedPose | undefined {
  const plain = fitPose(...to, { k2: false, bow: false })
  const richer = fitPose(...to, { k2: true, bow: false })
  return plain && richer && richer.press < plain.press ? richer : plain
}

/** How far the middle stands up, mm: the larger of the bows along x and y, if one shows. */
function findBow(flat: FittedPose, ...to: [readonly DiscCentre[], CardLayout, readonly number[], Frame]) {
  const bowed = fitPose(...to, { k2: false, bow: true })
  if (!bowed || bowed.press > BOW_GAIN * flat.press) return undefined
  const [largest] = [...bowed.bowMm].sort((a, b) => Math.abs(b.value) - Math.abs(a.value))
  if (!largest || Math.abs(largest.value) < BOW_RATIO * largest.standardUncertainty) return undefined
  return largest.value
}
