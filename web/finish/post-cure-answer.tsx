import { useCallback } from 'preact/hooks'
import type { PostCureReply } from '../../server/api/finish.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatNumber, formatShort } from '../format.js'
import { ToolResult } from '../plan/tool-parts.js'
import { FactList } from '../views/fact-list.js'
import { RefusalList } from '../views/refusal-list.js'
import { finishTexts } from '../texts/finish.js'
import { AssumedList } from './assumed-list.js'
import { beginTimer } from './timer-store.js'
import { clock, type TimerStage } from './timers.js'
import { ToRoute } from './to-route.js'

const words = finishTexts.cure

/** Light and rest of a plan as a timer; after light the part is turned by hand, and only then time goes on. */
function timerOf(stages: PostCureReply['stages']): TimerStage[] {
  return stages.flatMap(({ onS, restS, side }, i): TimerStage[] => {
    const last = i === stages.length - 1
    const turn = side !== 'both'
    const light = { what: words.stageLight, s: onS }
    if (last) return [{ ...light, cue: words.cueEnd }]
    if (restS === 0) return [{ ...light, cue: turn ? words.cueTurn : words.cueRest, hold: true }]
    return [
      { ...light, cue: turn ? words.cueTurn : words.cueRest },
      { what: words.stageRest, s: restS, cue: words.cueOn, hold: true },
    ]
  })
}

/** Stages, both temperatures, dose in depth. */
export function PostCureAnswer({ reply }: { reply: PostCureReply }) {
  const { stages, lightS, totalS, doseJPerCm2, irradianceMwPerCm2, peakC, lumpedPeakC, limitC, biot } = reply
  const temperature = useCallback(async () => {
    const { temperatureChart } = await import('./finish-charts.js')
    return (widthPx: number) => temperatureChart(reply, widthPx)
  }, [reply])
  const front = useCallback(async () => {
    const { frontDoseChart } = await import('./finish-charts.js')
    return (widthPx: number) => frontDoseChart(reply, widthPx)
  }, [reply])
  const depth = useCallback(async () => {
    const { depthChart } = await import('./finish-charts.js')
    return (widthPx: number) => depthChart(reply, widthPx)
  }, [reply])
  const [first] = stages
  const inWords = [
    words.stages(stages.length, clock(first?.onS ?? 0)),
    ...(stages.length > 1 && first && first.restS > 0 ? [words.rest(clock(first.restS))] : []),
    ...(first?.side === 'both' ? [] : [words.turn]),
  ].join(', ')
  const middle = formatShort(100 * reply.middleShare, 2)
  return (
    <ToolResult title={words.result} of={reply}>
      <p class="next-list">{inWords}</p>
      <FactList
        facts={[
          [words.total, `${clock(totalS)} min`],
          [words.light, words.lightValue(clock(lightS), formatShort(doseJPerCm2), formatShort(irradianceMwPerCm2))],
          [words.hottest, words.hottestValue(formatNumber(peakC, 0), formatNumber(limitC, 0))],
          [
            words.lumped,
            words.lumpedValue(formatNumber(lumpedPeakC, 0), formatShort(biot, 2), reply.trusted === 'lumped'),
          ],
          [words.middle, words.middleValue(middle)],
        ]}
      />
      <button type="button" class="main" onClick={() => beginTimer(words.timerName, timerOf(stages))}>
        {words.timer}
      </button>
      <ToRoute step="post-cure" notes={[inWords]} minutes={totalS / 60} />
      <AssumedList assumed={reply.assumed} />
      {reply.warnings.length > 0 && (
        <div class="note">
          <RefusalList refusals={reply.warnings} />
        </div>
      )}
      <Chart load={temperature} label={words.chartTemperature(formatNumber(peakC, 0), formatNumber(limitC, 0))} />
      <Key
        entries={[
          ['line', words.conduction],
          ['srgb', words.lump],
        ]}
      />
      <Chart load={front} label={words.chartFront} />
      <Chart load={depth} label={words.chartDose(middle)} />
      <Key
        entries={[
          ['line', words.both],
          ['srgb', words.face],
        ]}
      />
    </ToolResult>
  )
}
