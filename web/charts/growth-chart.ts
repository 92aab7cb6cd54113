import { areaY, dot, lineY, rect, ruleX, ruleY, text } from '@observablehq/plot'
import type { ReadLadder, ReadRung } from '../../server/api/readings.js'
import { formatExposure, interval95 } from '../format.js'
import { texts } from '../texts/page.js'
import { draw, exposureAxis } from './frame.js'

const words = texts.growth

interface Bar {
  readonly exposureS: number
  readonly growthUm: number
  readonly low: number
  readonly high: number
}

const bars = (rungs: readonly ReadRung[], which: 'standardUncertainty' | 'withinPhotoUncertainty'): Bar[] =>
  rungs.map(({ exposureS, growthUm }) => {
    const [low, high] = interval95(growthUm.value, growthUm[which])
    return { exposureS, growthUm: growthUm.value, low, high }
  })

/** Growth per side against layer exposure: points, fit, tolerance and suggestion. */
export function growthChart(ladder: ReadLadder, widthPx: number): SVGSVGElement {
  const { growthFit, usableRange, suggestion, doseToSize } = ladder
  const rungs = ladder.rungs.filter((rung) => 'growthUm' in rung)
  const whole = bars(rungs, 'standardUncertainty')
  const within = bars(rungs, 'withinPhotoUncertainty')
  const toleranceUm = usableRange?.toleranceUm
  // The band of the fit may run off far; it is cut where the measured points end.
  const heights = [...whole.flatMap(({ low, high }) => [low, high]), 0, toleranceUm ?? 0, -(toleranceUm ?? 0)]
  const room = 0.06 * (Math.max(...heights) - Math.min(...heights))
  const domain = [Math.min(...heights) - room, Math.max(...heights) + room] as const
  const exposures = [...ladder.rungs.map((rung) => rung.exposureS), ...(suggestion?.intervalS ?? [])]
  const x = exposureAxis(exposures, words.x)
  const [firstS, lastS] = x.domain as [number, number]

  return draw(widthPx, {
    x: { ...x, ticks: ladder.rungs.map((rung) => rung.exposureS) },
    y: { domain, label: words.y, labelArrow: 'none', grid: true, ticks: 6 },
    marks: [
      toleranceUm === undefined
        ? null
        : rect([null], { x1: firstS, x2: lastS, y1: -toleranceUm, y2: toleranceUm, fill: 'var(--tolerance)' }),
      suggestion &&
        rect([null], {
          x1: suggestion.intervalS[0],
          x2: suggestion.intervalS[1],
          y1: domain[0],
          y2: domain[1],
          fill: 'var(--suggest)',
          fillOpacity: 0.22,
        }),
      ruleY([0], { stroke: 'currentColor', strokeWidth: 1.5 }),
      growthFit && [
        areaY(growthFit.curve, {
          x: 'exposureS',
          y1: 'lowUm',
          y2: 'highUm',
          fill: 'var(--data)',
          fillOpacity: 0.2,
          clip: true,
        }),
        lineY(growthFit.curve, { x: 'exposureS', y: 'growthUm', stroke: 'var(--data)', strokeWidth: 2.5, clip: true }),
      ],
      suggestion && [
        ruleX([suggestion.exposureS], { stroke: 'var(--suggest)', strokeWidth: 3, strokeDasharray: '7 5' }),
        text([suggestion.exposureS], {
          x: (exposureS: number) => exposureS,
          text: (exposureS: number) => words.suggested(formatExposure(exposureS)),
          frameAnchor: 'top',
          dy: -16,
          fontSize: 18,
          fontWeight: 700,
          fill: 'var(--suggest-text)',
        }),
      ],
      ruleX(whole, { x: 'exposureS', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 2 }),
      ruleX(within, { x: 'exposureS', y1: 'low', y2: 'high', stroke: 'var(--data)', strokeWidth: 6 }),
      dot(whole, {
        x: 'exposureS',
        y: 'growthUm',
        r: 6.5,
        fill: 'var(--data)',
        stroke: 'var(--surface)',
        strokeWidth: 2,
      }),
      doseToSize &&
        dot([doseToSize], {
          x: 'exposureS',
          y: 0,
          r: 7,
          symbol: 'diamond2',
          fill: 'var(--surface)',
          stroke: 'currentColor',
          strokeWidth: 2.5,
        }),
    ],
  })
}
