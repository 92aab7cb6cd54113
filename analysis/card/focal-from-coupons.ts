import { median } from 'simple-statistics'
import type { Rung } from '../result.js'
import { cameraCentreMm } from './camera-pose.js'
import type { SolvedPose } from './solve-pose.js'

/** Below this relative uncertainty perspective or the file tell the focal length better than coupons do. */
const KNOWN_FOCAL = 0.15
/** The print's scale alone, some tenths of a per cent, makes the coupons' word vary by this much at 400 mm. */
const LEAST_CHANGE = 0.3
/** From further off than this nothing changes: a flatbed scanner sees all of the card from straight above. */
const FARTHEST_MM = 5000

/**
 * Focal length from how much larger the coupons' faces look than the card below them.
 *
 * Seen straight from above, a card says nothing of the camera's distance Z: focal length and distance are one. A face at
 * height h looks larger by Z / (Z - h), so that pitches r times as long as the pose makes them mean
 *
 *   1 - h / Z' = (1 - h / Z) / r
 *
 * up to the scale of the print.
 *
 * @param rungs as read with that pose
 * @param faceZMm h
 * @returns the focal length to solve the pose with, px, or undefined when the pose's own may stay
 */
export function focalFromCoupons(
  { pose, focalUncertainty }: SolvedPose,
  rungs: readonly Rung[],
  faceZMm: number,
): number | undefined {
  if (focalUncertainty < KNOWN_FOCAL) return undefined
  const ratios = rungs.flatMap((rung) => ('gratings' in rung ? rung.gratings.map(({ pitchRatio }) => pitchRatio) : []))
  if (ratios.length === 0) return undefined
  const [, , distanceMm] = cameraCentreMm(pose)
  const nearness = 1 - (1 - faceZMm / distanceMm) / median(ratios)
  const seenFromMm = Math.min(FARTHEST_MM, faceZMm / Math.max(nearness, faceZMm / FARTHEST_MM))
  return Math.abs(Math.log(seenFromMm / distanceMm)) > LEAST_CHANGE
    ? (pose.focalPx * seenFromMm) / distanceMm
    : undefined
}
