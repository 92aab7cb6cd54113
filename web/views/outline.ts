import type { PointPx } from '../../server/api/readings.js'

/** The points of a polygon as SVG wants them. */
export const svgPoints = (outline: readonly PointPx[]): string => outline.map((point) => point.join(',')).join(' ')

export interface BoxPx {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** The upright box around outlines, in the photo's pixels. */
export function boundingBox(outline: readonly PointPx[], marginPx = 0): BoxPx {
  const columns = outline.map(([column]) => column)
  const rows = outline.map(([, row]) => row)
  const x = Math.min(...columns) - marginPx
  const y = Math.min(...rows) - marginPx
  return { x, y, width: Math.max(...columns) + marginPx - x, height: Math.max(...rows) + marginPx - y }
}

export const middleOf = ({ x, y, width, height }: BoxPx): PointPx => [x + width / 2, y + height / 2]

/** How far a point lies outside a box; 0 inside. */
const distance = ([column, row]: PointPx, box: BoxPx) =>
  Math.hypot(
    Math.max(box.x - column, 0, column - box.x - box.width),
    Math.max(box.y - row, 0, row - box.y - box.height),
  )

/**
 * The thing a finger meant: the nearest one, of several the smallest.
 *
 * @param reachPx farthest distance that still counts
 */
export function nearest<T extends { readonly outlinePx: readonly PointPx[] }>(
  point: PointPx,
  things: readonly T[],
  reachPx: number,
): T | undefined {
  const near = things
    .filter((thing) => thing.outlinePx.length > 0)
    .map((thing) => {
      const box = boundingBox(thing.outlinePx)
      return { thing, off: distance(point, box), area: box.width * box.height }
    })
    .filter(({ off }) => off <= reachPx)
    .sort((a, b) => a.off - b.off || a.area - b.area)
  return near[0]?.thing
}

/** Where in the photo a click on its picture fell. */
export function clickedPx(event: MouseEvent, svg: SVGSVGElement): PointPx {
  const toPhoto = svg.getScreenCTM()?.inverse()
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(toPhoto)
  return [x, y]
}
