import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key, type KeySign } from '../charts/key.js'
import { formatExpanded, formatExposure, formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'

function keyOf({ growthFit, usableRange, suggestion, doseToSize }: ReadLadder): [KeySign, string][] {
  const { key } = texts.growth
  return [
    ['point', key.point],
    ['within', key.within],
    ...(growthFit ? [['curve', key.curve] as [KeySign, string]] : []),
    ...(usableRange
      ? [
          ['tolerance', `${key.tolerance(formatShort(usableRange.toleranceUm))}${inMil(usableRange.toleranceUm)}`] as [
            KeySign,
            string,
          ],
        ]
      : []),
    ...(suggestion ? [['suggestion', key.suggestion] as [KeySign, string]] : []),
    ...(doseToSize ? [['zero', key.doseToSize] as [KeySign, string]] : []),
  ]
}

/** Growth against exposure, as a chart. */
export function GrowthSection({ ladder }: { ladder: ReadLadder }) {
  const { title, lead, chart, summary } = texts.growth
  const load = useCallback(async () => {
    const { growthChart } = await import('../charts/growth-chart.js')
    return (widthPx: number) => growthChart(ladder, widthPx)
  }, [ladder])
  const rungs = ladder.rungs.filter((rung) => 'growthUm' in rung)
  if (rungs.length === 0) return null
  const points = rungs.map(({ exposureS, growthUm }) => summary(formatExposure(exposureS), formatExpanded(growthUm)))
  return (
    <section class="panel growth" aria-labelledby="growth">
      <h2 id="growth">{title}</h2>
      <p class="hint">{lead}</p>
      <Chart
        load={load}
        label={chart(points.join('; '))}
        table={{
          name: `growth-${ladder.design.ladderId}`,
          columns: ['exposure_s', 'growth_um', 'growth_u_um', 'growth_within_photo_u_um'],
          rows: rungs.map(({ exposureS, growthUm }) => [
            exposureS,
            growthUm.value,
            growthUm.standardUncertainty,
            growthUm.withinPhotoUncertainty,
          ]),
        }}
      />
      <Key entries={keyOf(ladder)} />
    </section>
  )
}
