import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { linearRegression, mean } from 'simple-statistics'
import sharp from 'sharp'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { linearFromSrgb } from '../../analysis/image/linear-light.js'
import { decodeCardCode } from '../../analysis/layout/card-code.js'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { CardLayout, CouponLayout, LadderLayout, Slot, XGrating } from '../../analysis/layout/schema.js'
import { cv, type Mat } from './opencv.js'

type Point = readonly [number, number]
type Own = <M extends { delete(): void }>(mat: M) => M

/** A coupon's face is 8 mm nearer to a camera some 400 mm away than the card is, and looks that much larger. */
const FACE_MAGNIFICATION = 1.02
/** How far from its place on the card a coupon may appear: laid askew, and shifted by the height of its face. */
const REACH_MM = 4
const TEMPLATE_PX_PER_MM = 5
const TURNS_DEG = [-3, -2, -1, 0, 1, 2, 3] as const
const LINEAR = Float64Array.from({ length: 256 }, (_, code) => linearFromSrgb(code / 255))

/**
 * Growth of every rung by the usual whole-frame steps of a computer-vision library: the peer that the analysis is timed
 * against.
 *
 * Grey frame, adaptive threshold, contours, homography, the whole card rectified at the photograph's scale, coupons found
 * by template matching, groove widths at half level of the column means, in linear light, the pitch as ruler.
 *
 * Left out, though the analysis does it: lens distortion, the camera's tone curve, ink on the lands, turned and mirrored
 * coupons, the gaps along the build, isolated features, window, uncertainty, most refusals, and the fit to a suggestion.
 *
 * @returns um per side, one a slot; undefined where no coupon could be measured
 */
export async function measureWholeFrame(photo: Uint8Array): Promise<(number | undefined)[]> {
  const mats: { delete(): void }[] = []
  const own: Own = (mat) => {
    mats.push(mat)
    return mat
  }
  try {
    const { data, info } = await sharp(photo).autoOrient().removeAlpha().raw().toBuffer({ resolveWithObject: true })
    const rgb = own(new cv.Mat(info.height, info.width, cv.CV_8UC3))
    rgb.data.set(data)
    const grey = own(new cv.Mat())
    cv.cvtColor(rgb, grey, cv.COLOR_RGB2GRAY)
    const { layout, corners } = await readCode(grey, own)
    const { picture, pxPerMm } = rectify(grey, layout.card, corners, own)
    const templates = drawTemplates(layout.coupon, own)
    return layout.card.slots.map((slot) => {
      const strip = gratingStrip(picture, pxPerMm, layout, slot, templates, own)
      return growthUm(columnLight(strip), layout.coupon.gratings)
    })
  } finally {
    for (const mat of mats) mat.delete()
  }
}

const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
prepareZXingModule({ overrides: { wasmBinary: Uint8Array.from(wasm).buffer } })

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

/** The card seen straight from above, at the photograph's scale, its upper left corner at (0, 0). */
function rectify(grey: Mat, card: CardLayout, corners: readonly Point[], own: Own): { picture: Mat; pxPerMm: number } {
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
  const { x: width, y: height } = card.sizeMm
  const toRectified = ([x, y]: Point): Point => [(x + width / 2) * pxPerMm, (height / 2 - y) * pxPerMm]
  const frameMm = card.fiducials.map(({ xMm, yMm }) => [xMm, yMm] as const)
  const warp = homography(
    frameMm.map(([x, y]) => transform(matrix, x, y)),
    frameMm.map(toRectified),
    own,
  )
  const picture = own(new cv.Mat())
  const size = new cv.Size(Math.round(width * pxPerMm), Math.round(height * pxPerMm))
  cv.warpPerspective(grey, picture, warp, size, cv.INTER_CUBIC)
  return { picture, pxPerMm }
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

/** The coupon with dark grooves, as it looks on the rectified card, at each turn. */
function drawTemplates({ sizeMm, prisms }: CouponLayout, own: Own): Mat[] {
  const scale = TEMPLATE_PX_PER_MM * FACE_MAGNIFICATION
  const [width, height] = [Math.round(sizeMm.x * scale), Math.round(sizeMm.y * scale)]
  const upright = own(new cv.Mat(height, width, cv.CV_8UC1))
  const pixels = upright.data.fill(220)
  for (const { kind, polygon } of prisms) {
    if (kind !== 'void') continue
    const [xs, ys] = [polygon.map(([x]) => x * scale), polygon.map(([, y]) => height - y * scale)]
    const [left, right] = [Math.round(Math.min(...xs)), Math.round(Math.max(...xs))]
    for (let row = Math.round(Math.min(...ys)); row < Math.max(...ys); row++)
      pixels.fill(40, row * width + left, row * width + right)
  }
  return TURNS_DEG.map((degrees) => {
    const turned = own(new cv.Mat())
    const about = own(cv.getRotationMatrix2D(new cv.Point(width / 2, height / 2), degrees, 1))
    const size = new cv.Size(width, height)
    cv.warpAffine(upright, turned, about, size, cv.INTER_CUBIC, cv.BORDER_REPLICATE, new cv.Scalar(0))
    return turned
  })
}

/** The middle of both gratings of the coupon in a slot, turned upright, at the picture's scale. */
function gratingStrip(
  picture: Mat,
  pxPerMm: number,
  { card, coupon }: LadderLayout,
  { originMm }: Slot,
  templates: readonly Mat[],
  own: Own,
): Mat {
  const centre: Point = [
    (originMm[0] + coupon.sizeMm.x / 2 + card.sizeMm.x / 2) * pxPerMm,
    (card.sizeMm.y / 2 - originMm[1] - coupon.sizeMm.y / 2) * pxPerMm,
  ]
  const halfPx = [coupon.sizeMm.x, coupon.sizeMm.y].map((mm) => (mm / 2 + REACH_MM) * pxPerMm)
  const [halfX = 0, halfY = 0] = halfPx
  const left = Math.max(0, Math.round(centre[0] - halfX))
  const top = Math.max(0, Math.round(centre[1] - halfY))
  const width = Math.min(picture.cols - left, Math.round(2 * halfX))
  const height = Math.min(picture.rows - top, Math.round(2 * halfY))
  const around = own(picture.roi(new cv.Rect(left, top, width, height)))
  const small = own(new cv.Mat())
  const shrink = TEMPLATE_PX_PER_MM / pxPerMm
  cv.resize(around, small, new cv.Size(Math.round(width * shrink), Math.round(height * shrink)), 0, 0, cv.INTER_AREA)
  const matches = templates.map((template) => {
    const scores = own(new cv.Mat())
    cv.matchTemplate(small, template, scores, cv.TM_CCOEFF_NORMED)
    const { maxVal, maxLoc } = cv.minMaxLoc(scores)
    const middle: Point = [maxLoc.x + template.cols / 2, maxLoc.y + template.rows / 2]
    return { score: maxVal, at: middle.map((c) => c / shrink) }
  })
  const best = matches.reduce((k, { score }, i) => (score > (matches[k]?.score ?? -1) ? i : k), 0)
  const [x = 0, y = 0] = matches[best]?.at ?? []
  const [before, here, after] = [best - 1, best, best + 1].map((i) => matches[i]?.score)
  const bend = (before ?? 0) - 2 * (here ?? 0) + (after ?? 0)
  const between = before === undefined || after === undefined || bend >= 0 ? 0 : (before - after) / (2 * bend)
  const turn = (TURNS_DEG[best] ?? 0) + between

  // The template's middle to the strip's: from the coupon's centre to that of its gratings.
  const [first, last] = [coupon.gratings[0], coupon.gratings.at(-1)]
  if (!first || !last) throw new Error('no gratings')
  const endMm = last.x0Mm + (last.grooves - 1) * last.pitchMm + last.grooveMm
  const strip = new cv.Size(
    Math.round((endMm - first.x0Mm + 1.6) * FACE_MAGNIFICATION * pxPerMm),
    Math.round((first.y1Mm - first.y0Mm - 1.4) * FACE_MAGNIFICATION * pxPerMm),
  ) as { width: number; height: number }
  const dx = ((first.x0Mm + endMm - coupon.sizeMm.x) / 2) * FACE_MAGNIFICATION * pxPerMm
  const dy = ((coupon.sizeMm.y - first.y0Mm - first.y1Mm) / 2) * FACE_MAGNIFICATION * pxPerMm
  const matrix = own(cv.getRotationMatrix2D(new cv.Point(x, y), -turn, 1))
  const m = matrix.data64F
  m[2] = (m[2] ?? 0) + strip.width / 2 - x - dx
  m[5] = (m[5] ?? 0) + strip.height / 2 - y - dy
  const upright = own(new cv.Mat())
  cv.warpAffine(around, upright, matrix, strip, cv.INTER_CUBIC, cv.BORDER_REPLICATE, new cv.Scalar(0))
  return upright
}

/** Mean linear light of each column. */
function columnLight({ data, rows, cols }: Mat): Float64Array {
  const light = new Float64Array(cols)
  for (let i = 0; i < rows * cols; i++) light[i % cols]! += LINEAR[data[i]!]! / rows
  return light
}

/** Mean growth of the gratings, from the widths of the dark runs; undefined when their number is not what was printed. */
function growthUm(light: Float64Array, gratings: readonly XGrating[]): number | undefined {
  const sorted = [...light].sort((a, b) => a - b)
  const level = (share: number) => sorted[Math.floor(share * (sorted.length - 1))] ?? 0
  const middle = (level(0.1) + level(0.9)) / 2
  const runs: { start: number; end: number }[] = []
  for (let i = 1; i < light.length; i++) {
    if (light[i]! < middle && light[i - 1]! >= middle) runs.push({ start: i, end: i })
    const open = runs.at(-1)
    if (open && light[i]! >= middle && light[i - 1]! < middle) open.end = i
  }
  const count = gratings.reduce((sum, { grooves }) => sum + grooves, 0)
  if (runs.length !== count || runs.some(({ start, end }) => end <= start)) return undefined

  /** Mean light over the middle half from one column to another. */
  const plateau = (from: number, to: number) => {
    const margin = Math.floor((to - from) / 4)
    return mean(Array.from(light.subarray(from + margin, Math.max(from + margin + 1, to - margin))))
  }
  const crossing = (start: number, threshold: number, step: 1 | -1) => {
    let i = start
    while (light[i]! < threshold && i > 0 && i < light.length - 1) i += step
    return i - (step * (light[i]! - threshold)) / (light[i]! - light[i - step]!)
  }
  const edges = runs.map(({ start, end }, k) => {
    const dark = plateau(start, end)
    const landWidth = Math.round(0.4 * (end - start))
    const leftLand = plateau(runs[k - 1]?.end ?? start - 2 * landWidth, start)
    const rightLand = plateau(end, runs[k + 1]?.start ?? end + 2 * landWidth)
    const deep = (start + end) >> 1
    return [crossing(deep, (dark + leftLand) / 2, -1), crossing(deep, (dark + rightLand) / 2, 1)] as const
  })
  let next = 0
  const growths = gratings.map(({ grooves, pitchMm, grooveMm }) => {
    const own = edges.slice(next, (next += grooves))
    const pitch = linearRegression(own.map(([left, right], i) => [i, (left + right) / 2])).m
    const width = mean(own.map(([left, right]) => right - left))
    return ((grooveMm - (width * pitchMm) / pitch) / 2) * 1000
  })
  return mean(growths)
}
