import type { PointPx } from '../../server/api/readings.js'
import { svgPoints } from './outline.js'

interface Props {
  readonly outlinePx: readonly PointPx[]
  /** Whether it was read, or survived. */
  readonly good: boolean
  readonly chosen: boolean
}

/** An outline on the photo. A photo may be light or dark, so it has a dark casing. */
export const OutlineShape = ({ outlinePx, good, chosen }: Props) => (
  <g class={`${good ? 'read' : 'unread'}${chosen ? ' chosen' : ''}`}>
    <polygon class="casing" points={svgPoints(outlinePx)} />
    <polygon class="outline" points={svgPoints(outlinePx)} />
  </g>
)
