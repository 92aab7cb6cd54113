import type { CameraOptions } from './options.js'

type Vector = readonly [number, number, number]
type Matrix3 = readonly [Vector, Vector, Vector]

export interface Camera {
  width: number
  height: number
  /** Ideal pixel ~ K (R X + t); X in mm, card plane z = 0, the camera at positive z; top-left pixel centre (0, 0). */
  K: Matrix3
  R: Matrix3
  t: Vector
  positionMm: Vector
  k1: number
  k2: number
  halfDiagonalPx: number
}

/** Both ways between pixels of the frame and places of a plane, mm. */
export interface PlaneMap {
  /** Writes the place seen by a pixel to `out`. */
  toPlane: (column: number, row: number, out: Float64Array) => void
  toPixel: (x: number, y: number) => { column: number; row: number }
}

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const times = (a: Vector, k: number): Vector => [a[0] * k, a[1] * k, a[2] * k]
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
const apply = (m: Matrix3, v: Vector): Vector => [dot(m[0], v), dot(m[1], v), dot(m[2], v)]
const transpose = (m: Matrix3): Matrix3 => [
  [m[0][0], m[1][0], m[2][0]],
  [m[0][1], m[1][1], m[2][1]],
  [m[0][2], m[1][2], m[2][2]],
]
/** Inverse but for a factor, which a homography does not need: the transposed cofactors. */
const adjugate = (m: Matrix3): Matrix3 => {
  const [a, b, c] = transpose(m)
  return [cross(b, c), cross(c, a), cross(a, b)]
}

/** The camera that aims at a place on the card, its frame filled by a card of the given size as asked. */
export function aimCamera(
  options: CameraOptions,
  resolution: { width: number; height: number },
  cardMm: { x: number; y: number },
): Camera {
  const { distanceMm = 400, aimMm = [0, 0], fillShare = 0.92, k1 = 0, k2 = 0 } = options
  const { width, height } = resolution
  const radians = (degrees = 0): number => (degrees * Math.PI) / 180
  const tilt = radians(options.tiltDeg)
  const azimuth = radians(options.azimuthDeg)
  const roll = radians(options.rollDeg)
  const back: Vector = [Math.sin(tilt) * Math.cos(azimuth), Math.sin(tilt) * Math.sin(azimuth), Math.cos(tilt)]
  const sideways = cross([0, 1, 0], back)
  const right = times(sideways, 1 / Math.hypot(...sideways))
  const up = cross(back, right)
  const rolledRight = plus(times(right, Math.cos(roll)), times(up, Math.sin(roll)))
  const rolledUp = plus(times(right, -Math.sin(roll)), times(up, Math.cos(roll)))
  const R: Matrix3 = [rolledRight, times(rolledUp, -1), times(back, -1)]
  const positionMm = plus([aimMm[0], aimMm[1], 0], times(back, distanceMm))
  const t = times(apply(R, positionMm), -1)

  const corners = [-1, 1].flatMap((sx) => [-1, 1].map((sy): Vector => [(sx * cardMm.x) / 2, (sy * cardMm.y) / 2, 0]))
  const seen = corners.map((corner) => plus(apply(R, corner), t))
  const extent = (axis: 0 | 1): number => {
    const values = seen.map((p) => p[axis] / p[2])
    return Math.max(...values) - Math.min(...values)
  }
  const focalPx = options.focalPx ?? fillShare * Math.min(width / extent(0), height / extent(1))
  const K: Matrix3 = [
    [focalPx, 0, (width - 1) / 2],
    [0, focalPx, (height - 1) / 2],
    [0, 0, 1],
  ]
  return { width, height, K, R, t, positionMm, k1, k2, halfDiagonalPx: Math.hypot(width, height) / 2 }
}

/** Pixel of an ideal one in homogeneous coordinates. */
function distorted(camera: Camera, x: number, y: number, w: number): { column: number; row: number } {
  const { K, k1, k2, halfDiagonalPx } = camera
  const dx = x / w - K[0][2]
  const dy = y / w - K[1][2]
  const q2 = (dx * dx + dy * dy) / halfDiagonalPx ** 2
  const scale = 1 + k1 * q2 + k2 * q2 * q2
  return { column: K[0][2] + dx * scale, row: K[1][2] + dy * scale }
}

/** Where a point in space falls in the frame, distortion included. */
export function projectMm(camera: Camera, point: Vector): { column: number; row: number } {
  const [x, y, w] = apply(camera.K, plus(apply(camera.R, point), camera.t))
  return distorted(camera, x, y, w)
}

const UNDISTORT_STEPS = 8192
const UNDISTORT_Q2_MAX = 2.5

/** Ideal over distorted distance from the centre, tabled against the distorted one squared; Newton solves each entry. */
function undistortion({ k1, k2 }: Camera): Float64Array {
  return Float64Array.from({ length: UNDISTORT_STEPS + 2 }, (_, i) => {
    const distorted = Math.sqrt((i / UNDISTORT_STEPS) * UNDISTORT_Q2_MAX)
    if (distorted === 0) return 1
    let q = distorted
    for (let step = 0; step < 30; step++) {
      const q2 = q * q
      q -= (q * (1 + k1 * q2 + k2 * q2 * q2) - distorted) / (1 + 3 * k1 * q2 + 5 * k2 * q2 * q2)
    }
    return q / distorted
  })
}

/** Between pixels and the plane at a height above the card. */
export function planeAt(camera: Camera, zMm: number): PlaneMap {
  const { K, R, t, halfDiagonalPx } = camera
  const columns = transpose(R)
  const forward = transpose([apply(K, columns[0]), apply(K, columns[1]), apply(K, plus(times(columns[2], zMm), t))])
  const [[a, b, c], [d, e, f], [g, h, i]] = adjugate(forward)
  const table = undistortion(camera)
  const cx = K[0][2]
  const cy = K[1][2]
  const stepsPerPx2 = UNDISTORT_STEPS / UNDISTORT_Q2_MAX / halfDiagonalPx ** 2
  return {
    toPlane(column, row, out) {
      const dx = column - cx
      const dy = row - cy
      const place = Math.min((dx * dx + dy * dy) * stepsPerPx2, UNDISTORT_STEPS)
      const step = Math.trunc(place)
      const low = table[step] as number
      const scale = low + ((table[step + 1] as number) - low) * (place - step)
      const x = cx + dx * scale
      const y = cy + dy * scale
      const w = g * x + h * y + i
      out[0] = (a * x + b * y + c) / w
      out[1] = (d * x + e * y + f) / w
    },
    toPixel: (x, y) =>
      distorted(camera, dot(forward[0], [x, y, 1]), dot(forward[1], [x, y, 1]), dot(forward[2], [x, y, 1])),
  }
}

const RESIN_INDEX = 1.51

/** The card as seen through a plate: rays bend towards the normal in the resin and so reach the card nearer the camera. */
export function cardThroughPlate(camera: Camera, plate: { topMm: number; bottomMm: number }): PlaneMap {
  const face = planeAt(camera, plate.topMm)
  const [cameraX, cameraY, cameraZ] = camera.positionMm
  const height = cameraZ - plate.topMm
  /** Writes where the ray that enters the face at `out` reaches the card. */
  const refract = (out: Float64Array): void => {
    const dx = (out[0] as number) - cameraX
    const dy = (out[1] as number) - cameraY
    const lateral = Math.hypot(dx, dy)
    // Snell's law; both tangents per mm of the lateral distance, so that they stay finite on the axis.
    const tanInAir = 1 / height
    const tanInResin = 1 / Math.sqrt((RESIN_INDEX ** 2 - 1) * lateral ** 2 + RESIN_INDEX ** 2 * height ** 2)
    const run = (plate.topMm - plate.bottomMm) * tanInResin + plate.bottomMm * tanInAir
    out[0] = (out[0] as number) + dx * run
    out[1] = (out[1] as number) + dy * run
  }
  return {
    toPlane(column, row, out) {
      face.toPlane(column, row, out)
      refract(out)
    },
    toPixel(x, y) {
      // Fixed point: the shift below the face changes slowly with the place of entry.
      const entry = new Float64Array([x, y])
      const reached = new Float64Array(2)
      for (let step = 0; step < 20; step++) {
        reached.set(entry)
        refract(reached)
        entry[0] = (entry[0] as number) + x - (reached[0] as number)
        entry[1] = (entry[1] as number) + y - (reached[1] as number)
      }
      return face.toPixel(entry[0] as number, entry[1] as number)
    },
  }
}

/** A piece lying in a plane: its own (u, v) to the plane's (x, y) = origin + [[a, b], [c, d]] (u, v). */
export interface Placement {
  originMm: readonly [number, number]
  matrix: readonly [number, number, number, number]
}

/** The plane's map in the coordinates of a piece lying in it. */
export function placed(map: PlaneMap, { originMm: [x0, y0], matrix: [a, b, c, d] }: Placement): PlaneMap {
  const det = a * d - b * c
  return {
    toPlane(column, row, out) {
      map.toPlane(column, row, out)
      const x = (out[0] as number) - x0
      const y = (out[1] as number) - y0
      out[0] = (d * x - b * y) / det
      out[1] = (a * y - c * x) / det
    },
    toPixel: (u, v) => map.toPixel(x0 + a * u + b * v, y0 + c * u + d * v),
  }
}
