import { describe, expect, it } from 'vitest'
import {
  applyHomography,
  cameraCentreMm,
  circleImageCentre,
  distort,
  planeHomography,
  projectPoint,
  undistort,
  type CameraPose,
} from '../../../analysis/card/camera-pose.js'
import { solvePose } from '../../../analysis/card/solve-pose.js'
import { ladderLayout } from '../../../analysis/index.js'
import { normalDraws } from '../../support/random.js'

const { card } = ladderLayout({
  ladderId: 'POSE01',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1, 2, 3, 4, 5, 6],
})
const frame = { width: 4032, height: 3024 }

/** A camera 360 mm above the card, tilted about x by the given angle. */
function camera(tiltDeg: number, k1: number, aspect: number): CameraPose {
  const t = (tiltDeg * Math.PI) / 180
  const [c, s] = [Math.cos(t), Math.sin(t)]
  return {
    focalPx: 9000,
    rotation: [1, 0, 0, 0, -c, s, 0, -s, -c],
    translationMm: [2, -1, 360],
    aspect,
    k1,
    centrePx: [2015.5, 1511.5],
    halfDiagonalPx: 2520,
  }
}

const discsOf = (pose: CameraPose, noisePx: number, seed: number) => {
  const deviate = normalDraws(seed)
  return card.fiducials.map(({ xMm, yMm, diameterMm }, index) => {
    const [x, y] = distort(pose, ...circleImageCentre(planeHomography(pose, 0), xMm, yMm, diameterMm / 2))
    return { index, px: [x + noisePx * deviate(), y + noisePx * deviate()] as const }
  })
}

/** Largest difference between two poses over the card's places, px. */
function farthest(a: CameraPose, b: CameraPose): number {
  return Math.max(
    ...[-55, -20, 20, 55].flatMap((x) =>
      [-40, 0, 40].map((y) => {
        const [p, q] = [projectPoint(a, x, y, 0), projectPoint(b, x, y, 0)]
        return Math.hypot(p[0] - q[0], p[1] - q[1])
      }),
    ),
  )
}

describe.each([
  ['from above', 0, 0, 1],
  ['tilted, with barrel distortion and a stretched print', 8, -0.03, 1.004],
  ['strongly tilted', 25, 0.02, 0.997],
])('a camera %s', (_, tilt, k1, aspect) => {
  const truth = camera(tilt, k1, aspect)
  it('is solved to a twentieth of a pixel from discs good to 0.03 px', () => {
    const rough = planeHomography({ ...truth, k1: 0, aspect: 1 }, 0)
    const solved = solvePose(discsOf(truth, 0.03, 7), card, rough, frame)
    if (!solved.ok) throw new Error(solved.refusal.code)
    // Goal of the centre's noise (0.05 px): fifteen discs average it, the corners extrapolate it.
    expect(farthest(solved.value.pose, truth)).toBeLessThan(0.06)
    expect(solved.value.used.length).toBe(card.fiducials.length)
  })
})

it('a disc that lies far off is left out', () => {
  const truth = camera(6, -0.01, 1)
  const discs = discsOf(truth, 0.03, 3).map((disc) =>
    disc.index === 4 ? { ...disc, px: [disc.px[0] + 9, disc.px[1] - 4] as const } : disc,
  )
  const solved = solvePose(discs, card, planeHomography(truth, 0), frame)
  if (!solved.ok) throw new Error(solved.refusal.code)
  expect(solved.value.used.some(({ index }) => index === 4)).toBe(false)
  expect(farthest(solved.value.pose, truth)).toBeLessThan(0.06)
})

it('discs that fit no camera are refused', () => {
  const deviate = normalDraws(11)
  const discs = discsOf(camera(5, 0, 1), 0, 1).map(({ index, px }) => ({
    index,
    px: [px[0] + 60 * deviate(), px[1] + 60 * deviate()] as const,
  }))
  const solved = solvePose(discs, card, planeHomography(camera(5, 0, 1), 0), frame)
  expect(solved.ok ? 'solved' : solved.refusal.code).toBe('pose-not-found')
})

it('distortion and its inverse cancel', () => {
  const pose = camera(0, -0.05, 1)
  for (const [x, y] of [
    [0, 0],
    [4031, 3023],
    [1000, 2500],
  ] as const) {
    const [dx, dy] = distort(pose, x, y)
    const [ux, uy] = undistort(pose, dx, dy)
    expect(Math.hypot(ux - x, uy - y)).toBeLessThan(1e-4)
  }
})

it('the centre of a circle seen askew is that of the ellipse through its image', () => {
  const h = planeHomography(camera(25, 0, 1), 0)
  const rim = Array.from({ length: 720 }, (_, i) => {
    const a = (i * Math.PI) / 360
    return applyHomography(h, 40 + 5 * Math.cos(a), 30 + 5 * Math.sin(a))
  })
  // The centre of an ellipse is the middle of its extremes in any direction.
  const middle = (k: 0 | 1) => (Math.min(...rim.map((p) => p[k])) + Math.max(...rim.map((p) => p[k]))) / 2
  const [x, y] = circleImageCentre(h, 40, 30, 5)
  // Sampling the rim every half degree misses an extreme by radius * (half step)^2 / 2, 0.002 px.
  expect(Math.abs(x - middle(0))).toBeLessThan(0.005)
  expect(Math.abs(y - middle(1))).toBeLessThan(0.005)
})

it('the camera stands where translation and rotation put it', () => {
  const [, , height] = cameraCentreMm(camera(0, 0, 1))
  expect(height).toBeCloseTo(360, 9)
})
