import { areaY, dot, lineY, ruleX, ruleY } from '@observablehq/plot'
import type { ReadLadder } from '../../server/api/readings.js'
import { interval95 } from '../format.js'
import { processTexts as words } from '../texts/process.js'
import { draw, named } from './frame.js'
import { measuredOf } from './process-points.js'

type Response = NonNullable<ReadLadder['process']>['responses'][number]

/** A response against the level of its coupons: numbers on a straight axis, names in the order of the card. */
export function processChart(ladder: ReadLadder, { of, curve = [] }: Response, widthPx: number): SVGSVGElement {
  const { factor, levels = [] } = ladder.design
  const ofNames = curve.length === 0
  const points = measuredOf(ladder, of).flatMap(({ slot, measured }) => {
    const level = levels[slot - 1]
    if (level === undefined) return []
    const [low, high] = interval95(measured.value, measured.standardUncertainty)
    return [{ level: ofNames ? level : Number(level), value: measured.value, low, high }]
  })
  const label = factor ? [words.factors[factor], words.units[factor]].filter(Boolean).join(', ') : ''
  return draw(widthPx, {
    marginBottom: 72,
    x: ofNames
      ? {
          ...named(label),
          ...{ type: 'point', domain: [...new Set(levels)], padding: 0.5 },
          // Names side by side would run into each other on a phone.
          ...(widthPx < 60 * levels.length && { tickRotate: -40, labelOffset: 68 }),
        }
      : { ...named(label), nice: true, ticks: 6 },
    y: { label: words.responses[of], labelArrow: 'none', grid: true, ticks: 6, nice: true },
    marks: [
      ...(of === 'growthUm' ? [ruleY([0], { stroke: 'currentColor' })] : []),
      areaY(curve, { x: 'amount', y1: 'low', y2: 'high', fill: 'var(--data)', fillOpacity: 0.2 }),
      lineY(curve, { x: 'amount', y: 'value', stroke: 'var(--data)', strokeWidth: 2.5 }),
      ruleX(points, { x: 'level', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 2 }),
      dot(points, { x: 'level', y: 'value', r: 6, fill: 'var(--data)', stroke: 'var(--surface)', strokeWidth: 2 }),
    ],
  })
}
