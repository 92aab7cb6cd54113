import { expect, it } from 'vitest'
import { aimCamera, cardThroughPlate, placed, planeAt, projectMm, type PlaneMap } from './camera.js'

const resolution = { width: 2000, height: 1500 }
const cardMm = { x: 136, y: 102 }
const oblique = aimCamera(
  { tiltDeg: 12, azimuthDeg: 130, rollDeg: 5, k1: -0.03, k2: 0.01, aimMm: [3, -2] },
  resolution,
  cardMm,
)

function seen(map: PlaneMap, column: number, row: number): [number, number] {
  const out = new Float64Array(2)
  map.toPlane(column, row, out)
  return [out[0] as number, out[1] as number]
}

it.each([
  ['the card', planeAt(oblique, 0)],
  ['a face above it', planeAt(oblique, 8)],
  ['the card through a plate', cardThroughPlate(oblique, { topMm: 8, bottomMm: 5 })],
  [
    'a piece lying turned and mirrored',
    placed(planeAt(oblique, 8), { originMm: [4, 7], matrix: [-0.8, -0.6, -0.6, 0.8] }),
  ],
])('maps pixels to %s and back', (_, map) => {
  for (const [x, y] of [
    [-60, -45],
    [10, 20],
    [61, 40],
  ] as const) {
    const { column, row } = map.toPixel(x, y)
    const [u, v] = seen(map, column, row)
    // The table of the distortion is good to 1e-9 of the distance from the centre.
    expect(u).toBeCloseTo(x, 5)
    expect(v).toBeCloseTo(y, 5)
  }
})

it('fills the asked share of the frame with the card', () => {
  const camera = aimCamera({ fillShare: 0.8 }, resolution, cardMm)
  const left = projectMm(camera, [-68, 51, 0])
  const right = projectMm(camera, [68, -51, 0])
  // 136 : 102 is the shape of the frame, so both sides are filled alike.
  expect((right.column - left.column) / resolution.width).toBeCloseTo(0.8, 9)
  expect((right.row - left.row) / resolution.height).toBeCloseTo(0.8, 9)
})

it('aims where it should, leans and turns as asked', () => {
  const camera = aimCamera(
    { tiltDeg: 10, azimuthDeg: 0, rollDeg: 90, aimMm: [5, 6], distanceMm: 300 },
    resolution,
    cardMm,
  )
  expect(projectMm(camera, [5, 6, 0]).column).toBeCloseTo(999.5, 9)
  expect(projectMm(camera, [5, 6, 0]).row).toBeCloseTo(749.5, 9)
  expect(camera.positionMm[0]).toBeCloseTo(5 + 300 * Math.sin(Math.PI / 18), 9)
  // Rolled by 90 degrees its right points to the card's +y.
  expect(projectMm(camera, [5, 7, 0]).column).toBeGreaterThan(999.5)
})

it('shifts a point by k1 q^2 + k2 q^4 of its distance from the centre', () => {
  const plain = aimCamera({ focalPx: 4000 }, resolution, cardMm)
  const distorted = aimCamera({ focalPx: 4000, k1: 0.05, k2: -0.02 }, resolution, cardMm)
  const ideal = projectMm(plain, [50, 30, 0])
  const { column, row } = projectMm(distorted, [50, 30, 0])
  const q2 = ((ideal.column - 999.5) ** 2 + (ideal.row - 749.5) ** 2) / 1250 ** 2
  const scale = 1 + 0.05 * q2 - 0.02 * q2 * q2
  expect(column - 999.5).toBeCloseTo((ideal.column - 999.5) * scale, 9)
  expect(row - 749.5).toBeCloseTo((ideal.row - 749.5) * scale, 9)
})

it('moves the card under a coupon by what Snell says', () => {
  const camera = aimCamera({ focalPx: 4000, distanceMm: 400 }, resolution, cardMm)
  const face = planeAt(camera, 8)
  const through = cardThroughPlate(camera, { topMm: 8, bottomMm: 5 })
  const angle = (14 * Math.PI) / 180
  const entry = 392 * Math.tan(angle)
  const { column, row } = face.toPixel(entry, 0)
  // 5 mm of air at 14 degrees and 3 mm of resin of index 1.51 at asin(sin 14 / 1.51) = 9.219 degrees: 1.2466 + 0.4869 mm.
  expect(seen(through, column, row)[0] - entry).toBeCloseTo(1.7335, 3)
})
