/** Where the camera stood and how it draws: from card millimetres to pixels of the upright photograph. */
export interface CameraPose {
  readonly focalPx: number
  /** Rotation from card axes (x right, y up, z towards the camera) to camera axes (x right, y down, z away), row by row. */
  readonly rotation: readonly number[]
  /** The card's origin in camera axes, mm. */
  readonly translationMm: readonly [number, number, number]
  /** Height over width of a printed square: an office printer's two scales differ. */
  readonly aspect: number
  /** Relative shift away from the principal point at the half diagonal. */
  readonly k1: number
  /** The same of fourth order; 0 unless the discs ask for it. */
  readonly k2: number
  /** Middle of the frame, taken as principal point. */
  readonly centrePx: readonly [number, number]
  readonly halfDiagonalPx: number
}

type Point = [number, number]

/** Adds radial distortion to a pixel of the ideal camera: p' = c + (p - c) (1 + k1 q^2 + k2 q^4), q in half diagonals. */
export function distort({ k1, k2, centrePx: [cx, cy], halfDiagonalPx }: CameraPose, x: number, y: number): Point {
  const dx = x - cx
  const dy = y - cy
  const q2 = (dx * dx + dy * dy) / (halfDiagonalPx * halfDiagonalPx)
  const scale = 1 + q2 * (k1 + k2 * q2)
  return [cx + dx * scale, cy + dy * scale]
}

/** Undoes `distort`. Fixed-point steps shrink the error by about k1 each: eight are beyond need for |k1| < 0.1. */
export function undistort(pose: CameraPose, x: number, y: number): Point {
  const [cx, cy] = pose.centrePx
  let [ix, iy] = [x, y]
  for (let i = 0; i < 8; i++) {
    const [ax, ay] = distort(pose, ix, iy)
    ix += x - ax
    iy += y - ay
  }
  return Number.isFinite(ix + iy) ? [ix, iy] : [cx, cy]
}

/**
 * Homography of the plane at height z above the card, card mm to ideal pixels (before distortion), nine numbers row by row.
 */
export function planeHomography(pose: CameraPose, zMm: number): number[] {
  const { focalPx: f, rotation: r, translationMm: t, aspect, centrePx } = pose
  const at = (i: number) => r[i] ?? 0
  const columns = [0, 3, 6].map((row, k) => [at(row), at(row + 1) * aspect, at(row + 2) * zMm + (t[k] ?? 0)])
  const [a = [], b = [], c = []] = columns
  const scaled = (axis: readonly number[], centre: number) => axis.map((v, i) => f * v + centre * (c[i] ?? 0))
  return [...scaled(a, centrePx[0]), ...scaled(b, centrePx[1]), ...c]
}

/** A point through a homography given row by row. */
export function applyHomography(h: readonly number[], x: number, y: number): Point {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, i = 0, j = 0] = h
  const w = g * x + i * y + j
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w]
}

/** Pixel of a point x, y, z given in card millimetres. */
export function projectPoint(pose: CameraPose, xMm: number, yMm: number, zMm: number): Point {
  const [x, y] = applyHomography(planeHomography(pose, zMm), xMm, yMm)
  return distort(pose, x, y)
}

/** Camera centre in card mm. */
export function cameraCentreMm({ rotation: r, translationMm: t }: CameraPose): [number, number, number] {
  const along = (k: number) => -((r[k] ?? 0) * t[0] + (r[k + 3] ?? 0) * t[1] + (r[k + 6] ?? 0) * t[2])
  return [along(0), along(1), along(2)]
}

/** Angle between the card's normal and the view of a point of the card, and its parts across x and along y; degrees. */
export function viewAngleDeg(pose: CameraPose, xMm: number, yMm: number): { total: number; x: number; y: number } {
  const [cx, cy, cz] = cameraCentreMm(pose)
  const degrees = (tangent: number) => (Math.atan(tangent) * 180) / Math.PI
  const [tx, ty] = [(cx - xMm) / cz, (cy - yMm) / cz]
  return { total: degrees(Math.hypot(tx, ty)), x: degrees(tx), y: degrees(ty) }
}

/** Angle between the optical axis and the card's normal, degrees. */
export const tiltDeg = ({ rotation }: CameraPose): number =>
  (Math.acos(Math.min(1, Math.abs(rotation[8] ?? 1))) * 180) / Math.PI

/**
 * Centre of the ellipse as which a circle is seen, in ideal pixels. It is not the image of the circle's centre.
 *
 * By the dual conic: C* = H Q* H', whose last column is the centre (Hartley & Zisserman, Multiple View Geometry, 2.2.3,
 * from memory).
 */
export function circleImageCentre(h: readonly number[], xMm: number, yMm: number, radiusMm: number): Point {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, i = 0, k = 0] = h
  // Q* of the circle times the last row of H.
  const r2 = radiusMm * radiusMm
  const u = g * xMm + i * yMm + k
  const qx = xMm * u - r2 * g
  const qy = yMm * u - r2 * i
  const w = g * qx + i * qy + k * u
  return [(a * qx + b * qy + c * u) / w, (d * qx + e * qy + f * u) / w]
}
