import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { decodeCardCode } from '../../../analysis/layout/card-code.js'
import { ladderLayout } from '../../../analysis/layout/ladder-layout.js'
import type { CardLayout, LadderLayout, RectMm } from '../../../analysis/layout/schema.js'
import { cv, type Mat, type Own } from './opencv.js'

type Point = readonly [number, number]

/** The card seen straight from above, at the photograph's scale, its upper left corner at (0, 0). */
export interface RectifiedCard {
  readonly layout: LadderLayout
  readonly picture: Mat
  readonly pxPerMm: number
  /** The colours of a rectangle of the card, straight from above too. */
  readonly colours: (rect: RectMm) => Mat
}

const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
prepareZXingModule({ overrides: { wasmBinary: Uint8Array.from(wasm).buffer } })

/** Grey frame, code, adaptive threshold, contours of the discs, homography, the whole card rectified. */
export async function rectifyCard(rgb: Mat, own: Own): Promise<RectifiedCard> {
  const grey = own(new cv.Mat())
  cv.cvtColor(rgb, grey, cv.COLOR_RGB2GRAY)
  const { layout, corners } = await readCode(grey, own)
  const { matrix, pxPerMm } = fitHomography(grey, layout.card, corners, own)
  const warp = (from: Mat, { x0, y0, x1, y1 }: RectMm) => {
    const frameMm: Point[] = [
      [x0, y1],
      [x1, y1],
      [x1, y0],
      [x0, y0],
    ]
    const toPatch = homography(
      frameMm.map(([x, y]) => transform(matrix, x, y)),
      frameMm.map(([x, y]) => [(x - x0) * pxPerMm, (y1 - y) * pxPerMm]),
      own,
    )
    const picture = own(new cv.Mat())
    const size = new cv.Size(Math.round((x1 - x0) * pxPerMm), Math.round((y1 - y0) * pxPerMm))
    cv.warpPerspective(from, picture, toPatch, size, cv.INTER_CUBIC)
    return picture
  }
  const { x: width, y: height } = layout.card.sizeMm
  const whole = { x0: -width / 2, y0: -height / 2, x1: width / 2, y1: height / 2 }
  return { layout, picture: warp(grey, whole), pxPerMm, colours: (rect) => warp(rgb, rect) }
}

/** The card's code, from the frame at a quarter of its size: the layout, and the code's corners in the frame. */
async function readCode(grey: Mat, own: Own): Promise<{ layout: LadderLayout; corners: Point[] }> {
  const quarter = own(new cv.Mat())
  cv.resize(grey, quarter, new cv.Size(grey.cols >> 2, grey.rows >> 2), 0, 0, cv.INTER_AREA)
  const shades = quarter.data
  const data = new Uint8ClampedArray(4 * shades.length)
  for (let i = 0; i < shades.length; i++) data.fill(shades[i]!, 4 * i, 4 * i + 4)
  const image = { data, width: quarter.cols, height: quarter.rows, colorSpace: 'srgb' as const }
  const [found] = await readBarcodes(image, { formats: ['QRCode'] })
  const code = decodeCardCode(found?.text ?? '')
  if (!found || code.kind !== 'card') throw new Error('no card')
  const { topLeft, topRight, bottomRight, bottomLeft } = found.position
  return {
    layout: ladderLayout(code.design),
    corners: [topLeft, topRight, bottomRight, bottomLeft].map(({ x, y }) => [4 * x + 1.5, 4 * y + 1.5] as const),
  }
}

/** Card mm to pixels of the frame, from the code's corners, then from the discs. */
function fitHomography(
  grey: Mat,
  card: CardLayout,
  corners: readonly Point[],
  own: Own,
): { matrix: Mat; pxPerMm: number } {
  const { x0Mm, y1Mm, moduleMm, rows } = card.code
  const edgeMm = rows.length * moduleMm
  const cornersMm: Point[] = [
    [x0Mm, y1Mm],
    [x0Mm + edgeMm, y1Mm],
    [x0Mm + edgeMm, y1Mm - edgeMm],
    [x0Mm, y1Mm - edgeMm],
  ]
  const [a = [0, 0], b = [0, 0]] = corners
  const pxPerMm = Math.hypot(b[0] - a[0], b[1] - a[1]) / edgeMm
  const discs = findDiscs(grey, pxPerMm * (card.fiducials[0]?.diameterMm ?? 0), own)
  let matrix = homography(cornersMm, corners, own)
  // The code lies in one corner: what it predicts is refined by the discs near it first.
  for (const reachMm of [8, 3, 3]) {
    const pairs = card.fiducials.flatMap(({ xMm, yMm }) => {
      const [x, y] = transform(matrix, xMm, yMm)
      const distance = ([u, v]: Point) => Math.hypot(u - x, v - y)
      const nearest = discs.toSorted((p, q) => distance(p) - distance(q))[0]
      return nearest && distance(nearest) < reachMm * pxPerMm ? [{ mm: [xMm, yMm] as const, px: nearest }] : []
    })
    if (pairs.length < 4) throw new Error('too few discs')
    matrix = homography(
      pairs.map(({ mm }) => mm),
      pairs.map(({ px }) => px),
      own,
    )
  }
  return { matrix, pxPerMm }
}

/** Centres of dark round things about as large as a disc. */
function findDiscs(grey: Mat, diameterPx: number, own: Own): Point[] {
  const dark = own(new cv.Mat())
  const block = 2 * Math.round(1.4 * diameterPx) + 1
  cv.adaptiveThreshold(grey, dark, 255, cv.ADAPTIVE_THRESH_MEAN_C, cv.THRESH_BINARY_INV, block, 14)
  const contours = own(new cv.MatVector())
  cv.findContours(dark, contours, own(new cv.Mat()), cv.RETR_LIST, cv.CHAIN_APPROX_NONE)
  const expected = (Math.PI / 4) * diameterPx ** 2
  const centres: Point[] = []
  for (let i = 0; i < contours.size(); i++) {
    const contour = own(contours.get(i))
    const area = cv.contourArea(contour)
    if (area < 0.3 * expected || area > 3 * expected) continue
    if ((4 * Math.PI * area) / cv.arcLength(contour, true) ** 2 < 0.7) continue
    const { m00, m10, m01 } = cv.moments(contour)
    centres.push([m10 / m00, m01 / m00])
  }
  return centres
}

function homography(from: readonly Point[], to: readonly Point[], own: Own): Mat {
  const points = (list: readonly Point[]) => own(cv.matFromArray(list.length, 1, cv.CV_32FC2, list.flat()))
  return own(cv.findHomography(points(from), points(to), cv.RANSAC, 5))
}

function transform({ data64F: h }: Mat, x: number, y: number): Point {
  const row = (i: number) => (h[i] ?? 0) * x + (h[i + 1] ?? 0) * y + (h[i + 2] ?? 0)
  return [row(0) / row(6), row(3) / row(6)]
}
