import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatExpanded, formatExposure } from '../format.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'

/** Print-through against exposure, as a chart; nothing where it was not measured. */
export function PrintThroughSection({ ladder }: { ladder: ReadLadder }) {
  const { title, lead, chart, depth, key } = texts.printThrough
  const load = useCallback(async () => {
    const { printThroughChart } = await import('../charts/print-through-chart.js')
    return (widthPx: number) => printThroughChart(ladder, widthPx)
  }, [ladder])
  const points = ladder.rungs.flatMap((rung) =>
    'growthUm' in rung && rung.printThroughUm
      ? [texts.growth.summary(formatExposure(rung.exposureS), formatExpanded(rung.printThroughUm))]
      : [],
  )
  if (points.length === 0) return null
  return (
    <section class="panel" aria-labelledby="print-through">
      <h2 id="print-through">{title}</h2>
      <p class="hint">{lead}</p>
      {points.length > 1 && (
        <>
          <Chart
            load={load}
            label={chart(points.join('; '))}
            table={{
              name: `print-through-${ladder.design.ladderId}`,
              columns: ['exposure_s', 'print_through_um', 'print_through_u_um'],
              rows: ladder.rungs.flatMap((rung) =>
                'growthUm' in rung && rung.printThroughUm
                  ? [[rung.exposureS, rung.printThroughUm.value, rung.printThroughUm.standardUncertainty]]
                  : [],
              ),
            }}
          />
          <Key entries={[['point', key]]} />
        </>
      )}
      {ladder.penetrationDepthUm && (
        <p>{depth(`${formatExpanded(ladder.penetrationDepthUm)} µm${inMil(ladder.penetrationDepthUm.value)}`)}</p>
      )}
    </section>
  )
}
