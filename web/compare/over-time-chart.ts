import { areaY, dot, lineY, ruleY } from '@observablehq/plot'
import type { Comparison } from '../../server/api/compare.js'
import { draw, named } from '../charts/frame.js'
import { formatDay } from '../format.js'
import { compareTexts } from '../texts/compare.js'

type OverTime = Comparison['overTime'][number]

/** One group over time: single values with their limits, and the moving average with its own. */
export function overTimeChart({ points, centre, limits, out, ewma }: OverTime, label: string, widthPx: number) {
  const single = points.map(({ date, value }, i) => ({ date: new Date(date), value, out: out.includes(i) }))
  const average = ewma.values.map((value, i) => ({
    date: single[i]!.date,
    value,
    low: ewma.limits[i]![0],
    high: ewma.limits[i]![1],
    out: ewma.out.includes(i),
  }))
  return draw(widthPx, {
    x: { type: 'utc', ...named(compareTexts.date), ticks: 5, tickFormat: formatDay },
    y: { label, labelArrow: 'none', grid: true, ticks: 6, nice: true },
    marks: [
      areaY(average, { x: 'date', y1: 'low', y2: 'high', fill: 'var(--data)', fillOpacity: 0.15 }),
      ruleY(limits, { stroke: 'currentColor', strokeDasharray: '6 5' }),
      ruleY([centre], { stroke: 'currentColor' }),
      lineY(average, { x: 'date', y: 'value', stroke: 'var(--data)', strokeWidth: 2.5 }),
      dot(single, { x: 'date', y: 'value', r: 4, fill: 'currentColor' }),
      dot(
        [...single, ...average].filter((one) => one.out),
        { x: 'date', y: 'value', r: 10, stroke: 'var(--suggest)', strokeWidth: 3 },
      ),
    ],
  })
}
