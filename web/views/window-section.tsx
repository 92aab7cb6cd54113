import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatExpanded, formatExposure, formatShort } from '../format.js'
import { lifeTexts } from '../texts/life.js'
import { texts } from '../texts/page.js'

const words = lifeTexts.charts

/** Haze against exposure; nothing where fewer than two rungs show it. */
export function HazeSection({ ladder }: { ladder: ReadLadder }) {
  const load = useCallback(async () => {
    const { hazeChart } = await import('../charts/haze-chart.js')
    return (widthPx: number) => hazeChart(ladder, widthPx)
  }, [ladder])
  const rungs = ladder.rungs.flatMap((rung) => ('growthUm' in rung && rung.haze ? [{ ...rung, haze: rung.haze }] : []))
  const trend = ladder.windowTrends?.find((one) => one.of === 'haze')
  if (rungs.length < 2 || !trend) return null
  const points = rungs.map(({ exposureS, haze }) => `${formatExposure(exposureS)} s: ${formatExpanded(haze)}`)
  return (
    <section class="panel" aria-labelledby="haze">
      <h2 id="haze">{words.haze}</h2>
      <p class="hint">{words.hazeLead}</p>
      <Chart
        load={load}
        label={words.hazeChart(points.join('; '))}
        table={{
          name: `haze-${ladder.design.ladderId}`,
          columns: ['exposure_s', 'haze_index', 'haze_index_u'],
          rows: rungs.map(({ exposureS, haze }) => [exposureS, haze.value, haze.standardUncertainty]),
        }}
      />
      <Key
        entries={[
          ['point', texts.printThrough.key],
          ['curve', texts.growth.key.curve],
        ]}
      />
    </section>
  )
}

/** What survived by size and exposure, walls and gaps; nothing where all fared alike. */
export function SurvivalSection({ ladder }: { ladder: ReadLadder }) {
  const kinds = (ladder.survival ?? []).map(({ kind }) => kind)
  if (kinds.length === 0) return null
  return (
    <section class="panel" aria-labelledby="survival">
      <h2 id="survival">{words.survival}</h2>
      <p class="hint">{words.survivalLead}</p>
      {kinds.map((kind) => (
        <SurvivalChart key={kind} ladder={ladder} kind={kind} />
      ))}
      <Key
        entries={[
          ['light', words.survived],
          ['cross', words.lost],
          ['sure', words.sure],
        ]}
      />
    </section>
  )
}

function SurvivalChart({ ladder, kind }: { ladder: ReadLadder; kind: 'line' | 'space' }) {
  const load = useCallback(async () => {
    const { survivalChart } = await import('../charts/survival-chart.js')
    return (widthPx: number) => survivalChart(ladder, kind, widthPx)
  }, [ladder, kind])
  const rows = ladder.rungs.flatMap((rung) =>
    'growthUm' in rung
      ? rung.isolated
          .filter((feature) => feature.kind === kind)
          .map(({ nominalUm, survives }) => [rung.exposureS, nominalUm, survives ? 1 : 0] as const)
      : [],
  )
  const smallest = ladder.rungs.flatMap((rung) => {
    if (!('growthUm' in rung)) return []
    const um = kind === 'line' ? rung.smallestLineUm : rung.smallestSpaceUm
    return [`${formatExposure(rung.exposureS)} s: ${um === null ? texts.rungs.none : `${formatShort(um)} µm`}`]
  })
  return (
    <Chart
      load={load}
      label={(kind === 'line' ? words.wallChart : words.gapChart)(smallest.join('; '))}
      table={{
        name: `${kind === 'line' ? 'walls' : 'gaps'}-${ladder.design.ladderId}`,
        columns: ['exposure_s', 'size_um', 'survived'],
        rows,
      }}
    />
  )
}
