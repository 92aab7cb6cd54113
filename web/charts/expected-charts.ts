import { areaY, dot, lineY, rect, ruleX, ruleY } from '@observablehq/plot'
import type { ExpectedReply } from '../../server/api/planning.js'
import type { ReadLadder } from '../../server/api/readings.js'
import { texts } from '../texts/page.js'
import { workTexts } from '../texts/work.js'
import { draw, exposureAxis, named } from './frame.js'

const words = workTexts.whatIf
const HEIGHT_PX = 300

/** Accumulated dose by depth with its band. */
export function doseChart(dose: ExpectedReply['accumulatedDose'], widthPx: number): SVGSVGElement {
  const x = ({ depthUm }: { depthUm: number }) => depthUm / 1000
  return draw(widthPx, {
    height: HEIGHT_PX,
    x: { ...named(words.doseX), ticks: 5 },
    y: { label: words.doseY, labelArrow: 'none', grid: true, ticks: 5, zero: true },
    marks: [
      areaY(dose, { x, y1: 'low', y2: 'high', fill: 'var(--data)', fillOpacity: 0.2 }),
      lineY(dose, { x, y: 'value', stroke: 'var(--data)', strokeWidth: 2.5 }),
      ruleY([0], { stroke: 'currentColor' }),
    ],
  })
}

/** The ladder's growth curve, with the exposure that is asked for and its band. */
export function expectedGrowthChart(
  { rungs, growthFit, usableRange }: ReadLadder,
  equivalentS: ExpectedReply['equivalentS'],
  growthUm: ExpectedReply['growthUm'],
  widthPx: number,
): SVGSVGElement {
  const exposures = rungs.map((rung) => rung.exposureS)
  const x = exposureAxis([...exposures, equivalentS.value], texts.growth.x)
  const [firstS, lastS] = x.domain as [number, number]
  const inside = (exposureS: number) => Math.min(lastS, Math.max(firstS, exposureS))
  const toleranceUm = usableRange?.toleranceUm
  const curve = growthFit?.curve ?? []
  return draw(widthPx, {
    height: HEIGHT_PX,
    x: { ...x, ticks: exposures },
    y: { label: texts.growth.y, labelArrow: 'none', grid: true, ticks: 5 },
    marks: [
      toleranceUm === undefined
        ? null
        : rect([null], { x1: firstS, x2: lastS, y1: -toleranceUm, y2: toleranceUm, fill: 'var(--tolerance)' }),
      ruleY([0], { stroke: 'currentColor', strokeWidth: 1.5 }),
      areaY(curve, { x: 'exposureS', y1: 'lowUm', y2: 'highUm', fill: 'var(--data)', fillOpacity: 0.2 }),
      lineY(curve, { x: 'exposureS', y: 'growthUm', stroke: 'var(--data)', strokeWidth: 2.5 }),
      ruleX([equivalentS.value], { stroke: 'var(--suggest)', strokeWidth: 2.5, strokeDasharray: '7 5' }),
      growthUm && [
        ruleX([growthUm], {
          x: () => equivalentS.value,
          y1: 'low',
          y2: 'high',
          stroke: 'var(--suggest)',
          strokeWidth: 4,
        }),
        ruleY([growthUm], {
          y: 'value',
          x1: () => inside(equivalentS.low),
          x2: () => inside(equivalentS.high),
          stroke: 'var(--suggest)',
          strokeWidth: 4,
        }),
        dot([growthUm], {
          x: () => equivalentS.value,
          y: 'value',
          r: 6,
          fill: 'var(--suggest)',
          stroke: 'var(--surface)',
        }),
      ],
    ],
  })
}
