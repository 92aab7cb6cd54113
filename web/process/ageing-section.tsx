import { useCallback } from 'preact/hooks'
import type { AgeingReply } from '../../server/api/ageing.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { capital, formatShort, toWidthOf } from '../format.js'
import { getAgeing } from '../records-client.js'
import { processTexts } from '../texts/process.js'
import { useLoaded } from '../use-loaded.js'

const words = processTexts.ageing
const MONTH_DAYS = 30

/** How the same coupons change from photograph to photograph; nothing while all are of one day. */
export function AgeingSection({ ladderId }: { ladderId: string }) {
  const { reply } = useLoaded(
    useCallback(() => getAgeing(ladderId), [ladderId]),
    words.failed,
  )
  return (
    reply && (
      <>
        {reply.responses.map((response) => (
          <Response key={response.of} response={response} />
        ))}
      </>
    )
  )
}

function Response({ response }: { response: AgeingReply['responses'][number] }) {
  const { of, verdict, line, points } = response
  const load = useCallback(async () => {
    const { ageingChart } = await import('../charts/ageing-chart.js')
    return (widthPx: number) => ageingChart(response, widthPx)
  }, [response])
  const slope = line && formatShort(MONTH_DAYS * line.slope.value, 2)
  const [low, high] = line ? line.interval.map((end) => MONTH_DAYS * end) : []
  return (
    <section class="panel" aria-labelledby={`ageing-${of}`}>
      <h2 id={`ageing-${of}`}>{capital(words.title(processTexts.responses[of]))}</h2>
      <p>
        {verdict === 'no-change' || !slope
          ? low === undefined || high === undefined
            ? words.noChange
            : words.noChangeWithin(...([low, high].map(toWidthOf([low, high])) as [string, string]))
          : capital(words.slope(processTexts.verdicts[verdict], slope))}
      </p>
      <Chart
        load={load}
        label={capital(words.chart(processTexts.responses[of], String(new Set(points.map(({ days }) => days)).size)))}
      />
      <Key entries={[['point', processTexts.keyPoint]]} />
    </section>
  )
}
