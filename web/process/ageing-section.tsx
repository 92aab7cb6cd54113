import { useCallback } from 'preact/hooks'
import type { AgeingReply } from '../../server/api/ageing.js'
import { Chart } from '../charts/chart.js'
import { capital, formatShort } from '../format.js'
import { getAgeing } from '../records-client.js'
import { processTexts } from '../texts/process.js'
import { useLoaded } from '../use-loaded.js'

const words = processTexts.ageing

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
  const slope = line && formatShort(30 * line.slope.value, 2)
  return (
    <section class="panel" aria-labelledby={`ageing-${of}`}>
      <h2 id={`ageing-${of}`}>{capital(words.title(processTexts.responses[of]))}</h2>
      <p>
        {verdict === 'no-change' || !slope
          ? words.noChange
          : capital(words.slope(processTexts.verdicts[verdict], slope))}
      </p>
      <Chart
        load={load}
        label={capital(words.chart(processTexts.responses[of], String(new Set(points.map(({ days }) => days)).size)))}
      />
    </section>
  )
}
