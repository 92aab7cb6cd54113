import { dot, line, link } from '@observablehq/plot'
import type { ReadLadder } from '../../server/api/readings.js'
import { lifeTexts } from '../texts/life.js'
import { texts } from '../texts/page.js'
import { draw, exposureAxis } from './frame.js'

type Kind = 'line' | 'space'

/** Every wall or groove printed, with whether it survived. */
export const survivors = ({ rungs }: ReadLadder, kind: Kind) =>
  rungs.flatMap((rung) =>
    'growthUm' in rung
      ? rung.isolated
          .filter((feature) => feature.kind === kind)
          .map(({ nominalUm, survives }) => ({ exposureS: rung.exposureS, sizeUm: nominalUm, survives }))
      : [],
  )

/** What survived by size and exposure: a filled dot did, a cross did not; the line is where 95 % do, with its interval. */
export function survivalChart(ladder: ReadLadder, kind: Kind, widthPx: number): SVGSVGElement {
  const shown = survivors(ladder, kind)
  const sizes = ladder.survival?.find((model) => model.kind === kind)?.sizes ?? []
  const sure = sizes.flatMap(({ nominalUm, survives95S }) =>
    survives95S
      ? [
          {
            sizeUm: nominalUm,
            exposureS: survives95S.value,
            low: survives95S.interval[0],
            high: survives95S.interval[1],
          },
        ]
      : [],
  )
  return draw(widthPx, {
    x: exposureAxis(
      ladder.rungs.map((rung) => rung.exposureS),
      texts.growth.x,
    ),
    y: {
      type: 'log',
      label: kind === 'line' ? lifeTexts.charts.wallY : lifeTexts.charts.gapY,
      labelArrow: 'none',
      ticks: [...new Set(shown.map(({ sizeUm }) => sizeUm))],
      tickFormat: String,
      grid: true,
    },
    marks: [
      link(sure, {
        x1: 'low',
        x2: 'high',
        y1: 'sizeUm',
        y2: 'sizeUm',
        stroke: 'var(--suggest)',
        strokeWidth: 5,
        strokeOpacity: 0.45,
      }),
      line(sure, { x: 'exposureS', y: 'sizeUm', sort: 'sizeUm', stroke: 'var(--suggest)', strokeWidth: 2.5 }),
      dot(
        shown.filter(({ survives }) => survives),
        { x: 'exposureS', y: 'sizeUm', r: 5.5, fill: 'var(--data)' },
      ),
      dot(
        shown.filter(({ survives }) => !survives),
        { x: 'exposureS', y: 'sizeUm', r: 5.5, symbol: 'times', stroke: 'currentColor', strokeWidth: 2 },
      ),
    ],
  })
}
