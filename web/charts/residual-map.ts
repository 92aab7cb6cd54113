import { arrow, dot, text } from '@observablehq/plot'
import { magnificationOf, offUm, roundDown, type Residual } from '../work/residual-scale.js'
import { workTexts } from '../texts/work.js'
import { formatShort } from '../format.js'
import { draw, named } from './frame.js'

const MARGIN_MM = 12
/** Room for the arrow that gives the scale. */
const SCALE_MM = 16

/** The card seen from above: an arrow at each disc from its fitted place towards where it was seen, magnified. */
export function residualMap(residuals: readonly Residual[], widthPx: number): SVGSVGElement {
  const words = workTexts.pose
  const times = magnificationOf(residuals)
  const ends = residuals.map((residual) => ({
    ...residual,
    x2: residual.xMm + (times * residual.dxUm) / 1000,
    y2: residual.yMm + (times * residual.dyUm) / 1000,
  }))
  const reach = (values: readonly number[]) =>
    [Math.min(...values) - MARGIN_MM, Math.max(...values) + MARGIN_MM] as const
  const [left, right] = reach(ends.flatMap(({ xMm, x2 }) => [xMm, x2]))
  const [lowest, top] = reach(ends.flatMap(({ yMm, y2 }) => [yMm, y2]))
  const bottom = lowest - SCALE_MM
  const scaleUm = roundDown(Math.max(0.1, ...residuals.map(offUm)))
  const margins = { marginLeft: 46, marginRight: 10, marginTop: 34, marginBottom: 46 }
  const pxPerMm = (widthPx - margins.marginLeft - margins.marginRight) / (right - left)
  const axis = { labelArrow: 'none' as const, ticks: widthPx < 460 ? 4 : 8 }
  const look = { stroke: 'var(--suggest)', strokeWidth: 2.5, headLength: 9 }
  return draw(widthPx, {
    ...margins,
    height: Math.round((top - bottom) * pxPerMm) + margins.marginTop + margins.marginBottom,
    x: { ...axis, ...named(words.x), domain: [left, right] },
    y: { ...axis, domain: [bottom, top], label: words.y, ticks: 5 },
    marks: [
      dot(ends, { x: 'xMm', y: 'yMm', r: 4.5, fill: 'var(--data)' }),
      arrow(ends, { x1: 'xMm', y1: 'yMm', x2: 'x2', y2: 'y2', ...look }),
      arrow([null], {
        x1: left + 3,
        x2: left + 3 + (times * scaleUm) / 1000,
        y1: bottom + 4,
        y2: bottom + 4,
        ...look,
        stroke: 'currentColor',
      }),
      text([words.scale(formatShort(scaleUm))], {
        x: left + 3,
        y: bottom + 4,
        dy: -12,
        textAnchor: 'start',
        fontWeight: 600,
        fill: 'currentColor',
      }),
    ],
  })
}
