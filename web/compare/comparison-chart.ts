import { dot, ruleX } from '@observablehq/plot'
import type { Comparison } from '../../server/api/compare.js'
import { draw } from '../charts/frame.js'
import { compareTexts as words } from '../texts/compare.js'

/** Mean of each group with its 95 % interval, and every coupon as a small dot. */
export function comparisonChart({ groups, of }: Comparison, widthPx: number): SVGSVGElement {
  const means = groups.map(({ group, mean: { value, interval } }) => ({
    group,
    value,
    low: interval[0],
    high: interval[1],
  }))
  const coupons = groups.flatMap(({ group, values }) => values.map(({ value }) => ({ group, value })))
  return draw(widthPx, {
    x: { type: 'point', domain: groups.map(({ group }) => group), label: null },
    y: { label: words.ofs[of], labelArrow: 'none', grid: true, ticks: 6 },
    marks: [
      dot(coupons, { x: 'group', y: 'value', r: 3, fill: 'currentColor', fillOpacity: 0.5, dx: 14 }),
      ruleX(means, { x: 'group', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 3 }),
      dot(means, { x: 'group', y: 'value', r: 6.5, fill: 'var(--data)', stroke: 'var(--surface)', strokeWidth: 2 }),
    ],
  })
}
