import type { PointPx } from '../../server/api/readings.js'
import type { BoxPx } from './outline.js'

/** Of the whole picture's width: closer there is nothing to see but pixels. */
const CLOSEST = 1 / 16

const clamp = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value))

/** How many times larger than the whole a part is seen. */
export const magnification = (whole: BoxPx, part: BoxPx): number => whole.width / part.width

/** The point of the photo at a place of the view, given in shares of its width and height. */
export const pointAt = ({ x, y, width, height }: BoxPx, [right, down]: PointPx): PointPx => [
  x + right * width,
  y + down * height,
]

/** The place of the view at which a point of the photo is seen, in shares of its width and height. */
export const shareAt = ({ x, y, width, height }: BoxPx, [column, row]: PointPx): PointPx => [
  (column - x) / width,
  (row - y) / height,
]

/** The part seen this many times larger, with what was at one place of the view then at the other, within the whole. */
export function heldAt(whole: BoxPx, part: BoxPx, from: PointPx, to: PointPx, times = 1): BoxPx {
  const [x, y] = pointAt(part, from)
  const width = clamp(part.width / times, CLOSEST * whole.width, whole.width)
  const height = (width * whole.height) / whole.width
  return {
    x: clamp(x - to[0] * width, whole.x, whole.x + whole.width - width),
    y: clamp(y - to[1] * height, whole.y, whole.y + whole.height - height),
    width,
    height,
  }
}
