import type { CameraPose } from './camera-pose.js'

/** Size of a photograph and its focal length in pixels, if known. */
export type Frame = { readonly width: number; readonly height: number; readonly focalPx?: number }

/** Pose from a homography when the focal length is given (Zhang 2000, 10.1109/34.888718), axes made orthogonal. */
export function poseFromHomography(h: readonly number[], focalPx: number, { width, height }: Frame): CameraPose {
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
    k2: 0,
    centrePx: [cx, cy],
    halfDiagonalPx: Math.hypot(width, height) / 2,
  }
}
