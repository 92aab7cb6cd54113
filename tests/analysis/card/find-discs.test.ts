import { expect, it } from 'vitest'
import { findDiscs } from '../../../analysis/card/find-discs.js'
import { ladderLayout } from '../../../analysis/index.js'
import { loadOpenCv } from '../../../analysis/image/opencv.js'

const design = { ladderId: 'ACCURACY', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.5, 3.1, 3.9, 4.9] }
const { card } = ladderLayout(design)
const FACTOR = 4
const [width, height] = [900, 675]

/** A drawn photograph in which the far columns of discs were once taken for round things on coupons: all in px. */
const discs = [
  [592, 265],
  [1881, 395],
  [3130, 537],
  [544, 732],
  [1841, 860],
  [3098, 992],
  [496, 1225],
  [1800, 1350],
  [3062, 1470],
  [452, 1721],
  [1757, 1842],
  [3023, 1952],
  [412, 2197],
  [1717, 2314],
  [2983, 2413],
] as const
const RADIUS = 40
/** The code's corners as read there from a picture shrunk to a quarter, and those round things with their radius. */
const corners = [
  [701.5, 285.5],
  [1001.5, 317.5],
  [969.5, 609.5],
  [673.5, 585.5],
] as const
const others = [
  [1656, 1094, 34],
  [1614, 1587, 34],
  [1571, 2080, 34],
] as const
function picture() {
  const grey = new Uint8Array(width * height).fill(200)
  for (const [x, y, radius = RADIUS] of [...discs, ...others] as readonly (readonly [number, number, number?])[])
    for (let row = 0; row < height; row++)
      for (let column = 0; column < width; column++)
        if (Math.hypot(column - x / FACTOR, row - y / FACTOR) < radius / FACTOR) grey[row * width + column] = 30
  return { width, height, grey, factor: FACTOR }
}

it("finds every disc where the code's corners, a pixel or two off, foretell the far side of the card badly", () => {
  loadOpenCv()
  const found = findDiscs(picture(), { design, corners }, card)
  if (!found.ok) throw new Error(found.refusal.code)
  expect(found.value.discs.map(({ index }) => index)).toEqual(card.fiducials.map((_, index) => index))
  for (const { index, px } of found.value.discs) {
    const [x, y] = discs[index] ?? [0, 0]
    // Components of a shrunk picture lie to a pixel of it.
    expect(Math.hypot(px[0] - x, px[1] - y)).toBeLessThan(FACTOR)
  }
})
