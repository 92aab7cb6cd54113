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
import { pressOfPoints } from '../../../analysis/card/press.js'
import { solvePose } from '../../../analysis/card/solve-pose.js'
import { ladderLayout } from '../../../analysis/index.js'
import { fitLinear } from '../../../analysis/statistics/linear-least-squares.js'
import { normalDraws } from '../../support/random.js'

const { card } = ladderLayout({
  ladderId: 'POSE01',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1, 2, 3, 4, 5, 6],
})
const frame = { width: 4032, height: 3024 }

/** A camera 360 mm above the card, tilted about x by the given angle. */
function camera(tiltDeg: number, k1: number, aspect: number, k2 = 0): CameraPose {
  const t = (tiltDeg * Math.PI) / 180
  const [c, s] = [Math.cos(t), Math.sin(t)]
  return {
    focalPx: 9000,
    rotation: [1, 0, 0, 0, -c, s, 0, -s, -c],
    translationMm: [2, -1, 360],
    aspect,
    k1,
    k2,
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

describe('distortion of fourth order', () => {
  const truth = camera(6, -0.05, 1, 0.03)
  const errorPx = (discs: ReturnType<typeof discsOf>) => {
    const solved = solvePose(discs, card, planeHomography({ ...truth, k1: 0, k2: 0 }, 0), frame)
    if (!solved.ok) throw new Error(solved.refusal.code)
    return { px: farthest(solved.value.pose, truth), k2: solved.value.pose.k2 }
  }
  it('is found where there is some: without it the card would be off by more than half a pixel', () => {
    const found = errorPx(discsOf(truth, 0.03, 5))
    expect(found.k2).toBeCloseTo(0.03, 2)
    expect(found.px).toBeLessThan(0.1)
  })

  it('is left out in most photographs that have none', () => {
    const plain = camera(6, -0.02, 1)
    const kept = Array.from({ length: 40 }, (_, seed) => {
      const solved = solvePose(discsOf(plain, 0.03, 100 + seed), card, planeHomography({ ...plain, k1: 0 }, 0), frame)
      return solved.ok ? solved.value.pose.k2 : NaN
    })
    // Noise lets one more coefficient predict better in about a third of such sets; 0.03 px make it small then.
    expect(kept.filter((k2) => k2 === 0).length).toBeGreaterThan(20)
    expect(Math.max(...kept.map(Math.abs))).toBeLessThan(0.01)
  })
})

it('the stretch of a print comes out with an uncertainty that holds', () => {
  for (const seed of [1, 2, 3, 4]) {
    const truth = camera(10, -0.01, 1.006)
    const solved = solvePose(
      discsOf(truth, 0.03, seed),
      card,
      planeHomography({ ...truth, k1: 0, aspect: 1 }, 0),
      frame,
    )
    if (!solved.ok) throw new Error(solved.refusal.code)
    const { pose, aspectUncertainty } = solved.value
    expect(Math.abs(pose.aspect - 1.006)).toBeLessThan(3 * aspectUncertainty)
    // Seen from 10 degrees the stretch trades with the focal length; more than known beforehand (0.004) it must be.
    expect(aspectUncertainty).toBeLessThan(0.004)
  }
})

it('a bowed card is told by its height, a flat one is not called bowed', () => {
  const truth = camera(4, -0.01, 1)
  const deviate = normalDraws(9)
  const bowed = (heightMm: number) =>
    card.fiducials.map(({ xMm, yMm }, index) => {
      const [x, y] = projectPoint(truth, xMm, yMm, heightMm * (1 - ((2 * xMm) / card.sizeMm.x) ** 2))
      return { index, px: [x + 0.03 * deviate(), y + 0.03 * deviate()] as const }
    })
  const bowOf = (heightMm: number) => {
    const solved = solvePose(bowed(heightMm), card, planeHomography({ ...truth, k1: 0 }, 0), frame)
    return solved.ok ? solved.value.bowMm : NaN
  }
  expect(bowOf(0)).toBeUndefined()
  for (const heightMm of [2, -3]) expect(Math.abs((bowOf(heightMm) ?? NaN) - heightMm)).toBeLessThan(0.5)
})

it('leaving each point out by formula is leaving it out indeed', () => {
  // A straight path x = a + b t, y = c + b t through five points: linear, so the formula is exact.
  const points = [
    [0, 1, 2.2],
    [1, 2.1, 2.9],
    [2, 2.8, 4.1],
    [3, 4.2, 5.2],
    [4, 5.1, 5.8],
  ] as const
  const rows = points.flatMap(([t, x, y]) => [
    { row: [1, 0, t], value: x },
    { row: [0, 1, t], value: y },
  ])
  const solve = (kept: typeof rows) => {
    const fit = fitLinear(
      kept.map(({ row }) => row),
      kept.map(({ value }) => value),
      kept.map(() => 1),
      'given',
    )
    if (!fit.ok) throw new Error(fit.refusal.code)
    return fit.value
  }
  const all = solve(rows)
  let expected = 0
  for (let i = 0; i < rows.length; i += 2) {
    const { coefficients } = solve(rows.filter((_, k) => k !== i && k !== i + 1))
    for (const { row, value } of rows.slice(i, i + 2))
      expected += (value - row.reduce((sum, r, k) => sum + r * coefficients[k]!, 0)) ** 2
  }
  const press = pressOfPoints(
    Float64Array.from(all.residuals),
    Float64Array.from(rows.flatMap(({ row }) => row)),
    Float64Array.from(all.covariance.flat()),
    3,
  )
  expect(press).toBeCloseTo(expected, 9)
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
