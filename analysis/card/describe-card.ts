import { cardPlane } from '../coupon/plane-map.js'
import type { CardLayout } from '../layout/schema.js'
import { refuse } from '../outcome.js'
import type { ReadLadder, RefusalReply } from '../result.js'
import { cameraCentreMm, tiltDeg } from './camera-pose.js'
import type { SolvedPose } from './solve-pose.js'

/** Office printers keep their two scales alike within some tenths of a per cent; common practice, no source. */
const LARGEST_STRETCH = 0.01
const LARGEST_BOW_MM = 1

/** What the result says of the card and the camera over it. */
export function describeCard(solved: SolvedPose, card: CardLayout, umPerPx: number): ReadLadder['card'] {
  const { pose, used, residualPx, bowMm } = solved
  return {
    umPerPx,
    tiltDeg: tiltDeg(pose),
    cameraDistanceMm: Math.hypot(...cameraCentreMm(pose)),
    radialDistortion: pose.k1,
    radialDistortion4: pose.k2,
    printScaleRatio: { value: pose.aspect, standardUncertainty: solved.aspectUncertainty },
    ...(bowMm === undefined ? {} : { bowMm }),
    residualUm: residualPx * umPerPx,
    residuals: residualMap(solved, card),
    fiducialsFound: used.length,
    fiducialsExpected: card.fiducials.length,
    fiducialsPx: used.map(({ px }) => [...px]),
  }
}

/** Each disc's distance from the pose in micrometres of the card. */
function residualMap({ pose, used, residualsPx }: SolvedPose, card: CardLayout): ReadLadder['card']['residuals'] {
  const toPx = cardPlane(pose, 0)
  return used.map(({ index }, i) => {
    const { xMm = 0, yMm = 0 } = card.fiducials[index] ?? {}
    const [o, a, b] = [toPx(xMm, yMm), toPx(xMm + 0.5, yMm), toPx(xMm, yMm + 0.5)]
    const [xx, yx, xy, yy] = [a[0] - o[0], a[1] - o[1], b[0] - o[0], b[1] - o[1]].map((half) => 2 * half) as [
      number,
      number,
      number,
      number,
    ]
    const [px = 0, py = 0] = residualsPx[i] ?? []
    const determinant = xx * yy - xy * yx
    return {
      fiducial: index,
      xMm,
      yMm,
      dxUm: (1000 * (yy * px - xy * py)) / determinant,
      dyUm: (1000 * (xx * py - yx * px)) / determinant,
    }
  })
}

/** What is unusual about the card, though widths do not depend on it. */
export function cardWarnings({ pose, bowMm }: SolvedPose): RefusalReply[] {
  const stretched = refuse(
    'card-stretched',
    'The printer stretched the card in one direction. Widths do not depend on it; print at 100 % to have it right.',
    `height over width of a printed square ${pose.aspect.toFixed(3)}, at most ${LARGEST_STRETCH} from 1`,
  ).refusal
  const bowed = refuse(
    'card-bowed',
    'The card did not lie flat. Widths do not depend on it, but focus and the view onto the coupons do: lay it on something flat.',
    `its middle ${Math.abs(bowMm ?? 0).toFixed(1)} mm ${(bowMm ?? 0) > 0 ? 'above' : 'below'} its edges, at most ${LARGEST_BOW_MM} mm`,
  ).refusal
  return [
    ...(Math.abs(pose.aspect - 1) > LARGEST_STRETCH ? [stretched] : []),
    ...(Math.abs(bowMm ?? 0) > LARGEST_BOW_MM ? [bowed] : []),
  ]
}
