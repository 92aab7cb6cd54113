import { dot, ruleX } from '@observablehq/plot'
import type { ReadLadder } from '../../server/api/readings.js'
import { interval95 } from '../format.js'
import { texts } from '../texts/page.js'
import { draw, exposureAxis } from './frame.js'

/** Print-through against layer exposure. */
export function printThroughChart({ rungs }: ReadLadder, widthPx: number): SVGSVGElement {
  const points = rungs.flatMap((rung) => {
    if (!('growthUm' in rung) || !rung.printThroughUm) return []
    const { value, standardUncertainty } = rung.printThroughUm
    const [low, high] = interval95(value, standardUncertainty)
    return [{ exposureS: rung.exposureS, value, low, high }]
  })
  const exposures = rungs.map((rung) => rung.exposureS)
  return draw(widthPx, {
    x: exposureAxis(exposures, texts.growth.x),
    y: { label: texts.printThrough.y, labelArrow: 'none', grid: true, ticks: 6, nice: true },
    marks: [
      ruleX(points, { x: 'exposureS', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 2 }),
      dot(points, {
        x: 'exposureS',
        y: 'value',
        r: 5,
        fill: 'var(--data)',
        stroke: 'var(--surface)',
        strokeWidth: 2,
      }),
    ],
  })
}
