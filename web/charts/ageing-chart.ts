import { dot, lineY, ruleX } from '@observablehq/plot'
import type { AgeingReply } from '../../server/api/ageing.js'
import { interval95 } from '../format.js'
import { processTexts } from '../texts/process.js'
import { draw, named } from './frame.js'

/** A response of each coupon against days with its 95 % interval, its photographs joined. */
export function ageingChart({ of, points }: AgeingReply['responses'][number], widthPx: number): SVGSVGElement {
  const place = { x: 'days', y: 'value' } as const
  const spans = points.map(({ days, value, standardUncertainty }) => {
    const [low, high] = interval95(value, standardUncertainty)
    return { days, low, high }
  })
  return draw(widthPx, {
    x: { ...named(processTexts.ageing.days), nice: true, ticks: 6 },
    y: { label: processTexts.responses[of], labelArrow: 'none', grid: true, ticks: 6, nice: true },
    marks: [
      ruleX(spans, { x: 'days', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 1.5, strokeOpacity: 0.5 }),
      lineY(points, { ...place, z: 'slot', stroke: 'var(--data)', strokeWidth: 1.5, strokeOpacity: 0.6 }),
      dot(points, { ...place, r: 5, fill: 'var(--data)', stroke: 'var(--surface)', strokeWidth: 2 }),
    ],
  })
}
