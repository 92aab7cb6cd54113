import { median } from 'simple-statistics'
import { cv, type Mat, type Own } from './opencv.js'

const NOISE_TIMES = 6
/** Of the light of white paper. */
const LEAST_SHARE = 0.08
/** A bubble of a quarter of a millimetre. */
const LEAST_MM2 = 0.05
/** Layer lines blur along the build, by how much is tried. */
const SMEARS_MM = [0.05, 0.15, 0.25, 0.4, 0.6]
/** Uneven light is smoother than this. */
const LIGHT_MM = 3
/** Edges may lie off their place by so much of a pixel. */
const EDGE_PX = 0.25
/** Smallest detail that is looked for. */
const DETAIL_MM = 0.07

/** Regions of a window that its bare target, smeared and scattered under uneven light, does not explain. */
export function countDefects(
  pictures: Readonly<Record<'bare' | 'scattered' | 'seen', Mat>>,
  { hazy, mirrored }: { readonly hazy: number; readonly mirrored: number },
  fullPxPerMm: number,
  own: Own,
): number {
  const pxPerMm = fullPxPerMm / 2
  const size = new cv.Size(pictures.bare.cols >> 1, pictures.bare.rows >> 1)
  const filtered = (filter: (to: Mat) => void) => {
    const to = own(new cv.Mat())
    filter(to)
    // A copy: the library's memory moves when it grows.
    return { mat: to, values: to.data32F.slice() }
  }
  const halved = (from: Mat) => filtered((to) => cv.resize(from, to, size, 0, 0, cv.INTER_AREA))
  const blurred = (from: Mat, x: number, y: number) =>
    filtered((to) => cv.GaussianBlur(from, to, new cv.Size(0, 0), x, y, cv.BORDER_REPLICATE)).values
  const picture = (values: Float32Array) => own(cv.matFromArray(size.height, size.width, cv.CV_32FC1, values))
  const smooth = (values: Float32Array) => {
    const box = new cv.Size(Math.round(LIGHT_MM * pxPerMm), Math.round(LIGHT_MM * pxPerMm))
    return filtered((to) => cv.blur(picture(values), to, box, new cv.Point(-1, -1), cv.BORDER_REPLICATE)).values
  }

  const { mat: bare } = halved(pictures.bare)
  const scattered = halved(pictures.scattered).values
  const clear = halved(pictures.seen).values.map((light) => light - mirrored)
  const light = smooth(clear)
  const tries = SMEARS_MM.map((smearMm) => {
    const sharp = blurred(bare, 0.02 * pxPerMm, smearMm * pxPerMm)
    const expected = sharp.map((value, i) => (1 - hazy) * value + hazy * scattered[i]!)
    const smoothed = smooth(expected)
    return { expected, left: clear.map((value, i) => (value * smoothed[i]!) / light[i]! - expected[i]!) }
  })
  const squares = tries.map(({ left }) => left.reduce((sum, value) => sum + value * value, 0))
  const { expected, left } = tries[squares.indexOf(Math.min(...squares))]!
  const residual = blurred(picture(left), DETAIL_MM * pxPerMm, DETAIL_MM * pxPerMm)
  const square = own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(3, 3)))
  const range = filtered((to) => cv.morphologyEx(picture(expected), to, cv.MORPH_GRADIENT, square)).values
  const noise = 1.4826 * median(Array.from(residual, Math.abs))
  const least = Math.max(NOISE_TIMES * noise, LEAST_SHARE * Math.max(...scattered))
  const beyond = own(new cv.Mat(size.height, size.width, cv.CV_8UC1))
  beyond.data.set(residual.map((value, i) => (Math.abs(value) > least + EDGE_PX * range[i]! ? 255 : 0)))
  const [labels, stats, centroids] = [own(new cv.Mat()), own(new cv.Mat()), own(new cv.Mat())]
  const count = cv.connectedComponentsWithStats(beyond, labels, stats, centroids)
  const areas = Array.from({ length: count - 1 }, (_, i) => stats.data32S[(i + 1) * stats.cols + cv.CC_STAT_AREA]!)
  return areas.filter((area) => area >= LEAST_MM2 * pxPerMm ** 2).length
}
