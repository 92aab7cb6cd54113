import sharp from 'sharp'
import { beforeAll, expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/index.js'
import { cardPng } from '../../../server/printables/index.js'
import { readCodes } from '../../support/code-reader.js'
import { missingTool } from '../../support/debian.js'
import { inkCentre, misprints, type DotArea, type Dots } from '../../support/ink.js'

const PIXEL_MM = 25.4 / 1200

const { card } = ladderLayout({ ladderId: 'K7Q2XN', layerHeightUm: 30, pixelPitchUm: 22, exposuresS: [1.6, 2] })
const noCodeReader = missingTool('zbarimg', 'zbar-tools')

let png: Buffer
let dots: Dots
beforeAll(async () => {
  png = await cardPng(card)
  const { data, info } = await sharp(png).extractChannel(0).raw().toBuffer({ resolveWithObject: true })
  const { width, height } = info
  dots = { width, height, darkness: (column, row) => 255 - (data[row * width + column] ?? NaN) }
})

const dotArea = (x0: number, y0: number, x1: number, y1: number): DotArea => {
  const pixels = (mm: number) => Math.round(mm / PIXEL_MM)
  const [left, top] = [card.sizeMm.x / 2, card.sizeMm.y / 2]
  return { x0: pixels(left + x0), y0: pixels(top - y1), x1: pixels(left + x1), y1: pixels(top - y0) }
}

it('has the size of the card at 1200 pixels an inch', async () => {
  const { density } = await sharp(png).metadata()
  expect(density).toBe(1200)
  // The card is whole dots of 600 an inch.
  expect(dots.width * PIXEL_MM).toBeCloseTo(card.sizeMm.x, 9)
  expect(dots.height * PIXEL_MM).toBeCloseTo(card.sizeMm.y, 9)
})

it('fills exactly the pixels of each black area, and none beside', () => {
  const areas = card.black.map(({ x0, y0, x1, y1 }) => dotArea(x0, y0, x1, y1))
  expect(misprints(dots, areas)).toEqual({ light: 0, spilled: 0 })
})

it('has its discs where the layout has them', () => {
  for (const { xMm, yMm, diameterMm } of card.fiducials) {
    const reach = diameterMm / 2 + 0.8
    const centre = inkCentre(dots, dotArea(xMm - reach, yMm - reach, xMm + reach, yMm + reach))
    // Each of the 590 pixels on the rim is rounded to black or white: alike on both sides, so that little is left. 1 um is 1/21 pixel.
    expect(Math.abs(centre.x * PIXEL_MM - card.sizeMm.x / 2 - xMm)).toBeLessThan(0.001)
    expect(Math.abs(card.sizeMm.y / 2 - centre.y * PIXEL_MM - yMm)).toBeLessThan(0.001)
  }
})

it('carries a code that another reader reads', async ({ skip }) => {
  skip(noCodeReader !== undefined, noCodeReader)
  expect(readCodes(await sharp(png).resize({ width: 1200 }).png().toBuffer())).toEqual([card.code.payload])
})
