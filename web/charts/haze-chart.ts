import { areaY, dot, lineY, ruleX } from '@observablehq/plot'
import type { ReadLadder } from '../../server/api/readings.js'
import { interval95 } from '../format.js'
import { lifeTexts } from '../texts/life.js'
import { texts } from '../texts/page.js'
import { draw, exposureAxis } from './frame.js'

/** Haze index of each rung with its 95 % interval. */
export const hazePoints = ({ rungs }: ReadLadder) =>
  rungs.flatMap((rung) => {
    if (!('growthUm' in rung) || !rung.haze) return []
    const [low, high] = interval95(rung.haze.value, rung.haze.standardUncertainty)
    return [{ exposureS: rung.exposureS, value: rung.haze.value, low, high }]
  })

/** Our haze index against layer exposure: points, trend with its band. */
export function hazeChart(ladder: ReadLadder, widthPx: number): SVGSVGElement {
  const points = hazePoints(ladder)
  const curve = ladder.windowTrends?.find((trend) => trend.of === 'haze')?.curve ?? []
  return draw(widthPx, {
    x: exposureAxis(
      ladder.rungs.map((rung) => rung.exposureS),
      texts.growth.x,
    ),
    y: { label: lifeTexts.charts.hazeY, labelArrow: 'none', grid: true, ticks: 6, nice: true },
    marks: [
      areaY(curve, { x: 'exposureS', y1: 'low', y2: 'high', fill: 'var(--data)', fillOpacity: 0.2 }),
      lineY(curve, { x: 'exposureS', y: 'value', stroke: 'var(--data)', strokeWidth: 2.5 }),
      ruleX(points, { x: 'exposureS', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 2 }),
      dot(points, { x: 'exposureS', y: 'value', r: 6, fill: 'var(--data)', stroke: 'var(--surface)', strokeWidth: 2 }),
    ],
  })
}
