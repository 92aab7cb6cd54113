import { dot, lineY } from '@observablehq/plot'
import type { WorkingCurveReply } from '../../server/api/planning.js'
import { planTexts } from '../texts/plan.js'
import { draw, named } from './frame.js'

/** Cure depth against dose on a logarithmic axis, with the curve depth = Dp ln(dose / Ec). */
export function workingCurveChart(reply: WorkingCurveReply, widthPx: number): SVGSVGElement {
  const { points, advice, penetrationDepthUm, criticalDoseMjPerCm2 } = reply
  const { x, y } = planTexts.curve
  const warned = new Set(advice.map(({ line }) => line))
  const doses = points.map((point) => point.doseMjPerCm2)
  const ends = [criticalDoseMjPerCm2, Math.max(...doses) * 1.1].map((doseMjPerCm2) => ({
    doseMjPerCm2,
    depthUm: penetrationDepthUm.value * Math.log(doseMjPerCm2 / criticalDoseMjPerCm2),
  }))
  const low = Math.min(criticalDoseMjPerCm2, ...doses) / 1.1
  const at = { x: 'doseMjPerCm2', y: 'depthUm' }
  return draw(widthPx, {
    x: {
      type: 'log',
      domain: [low, Math.max(...doses) * 1.1],
      ticks: widthPx < 460 ? 3 : 6,
      tickFormat: (dose: number) => String(dose),
      ...named(x),
    },
    y: { label: y, labelArrow: 'none', grid: true, ticks: 6, zero: true, nice: true },
    marks: [
      lineY(ends, { ...at, stroke: 'var(--data)', strokeWidth: 2.5 }),
      dot(
        points.filter(({ line }) => !warned.has(line)),
        { ...at, r: 5, fill: 'var(--data)', stroke: 'var(--surface)', strokeWidth: 1.5 },
      ),
      dot(
        points.filter(({ line }) => warned.has(line)),
        { ...at, r: 7, symbol: 'diamond2', fill: 'var(--surface)', stroke: 'currentColor', strokeWidth: 2.5 },
      ),
    ],
  })
}
