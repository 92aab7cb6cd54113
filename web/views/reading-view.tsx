import { useEffect } from 'preact/hooks'
import type { LadderReading, RefusedLadder } from '../../server/api/readings.js'
import { startAddress } from '../route.js'
import { texts } from '../texts/page.js'
import { useReading } from '../use-reading.js'
import { FailedView } from './failed-view.js'
import { LadderView } from './ladder-view.js'
import { ProgressView } from './progress-view.js'
import { RefusedView } from './refused-view.js'

const isRefused = (result: LadderReading): result is RefusedLadder => 'refusal' in result

/** One reading in whatever state it is. */
export function ReadingView({ readingId }: { readingId: string }) {
  const { failure, name } = texts
  const { load, tryAgain, refresh } = useReading(readingId)
  const result = load.kind === 'loaded' ? load.reading.result : undefined
  const ladderId = result && !isRefused(result) ? result.design.ladderId : undefined
  useEffect(() => {
    if (ladderId) document.title = `${texts.reading.title(ladderId)} · ${name}`
    return () => {
      document.title = name
    }
  }, [ladderId])

  if (load.kind === 'loading') return <div class="waiting" aria-busy="true" />
  if (load.kind === 'missing')
    return (
      <section class="panel">
        <h1>{failure.missingTitle}</h1>
        <p>{failure.missingText}</p>
        <a class="button" href={startAddress}>
          {failure.home}
        </a>
      </section>
    )
  if (load.kind === 'unreachable')
    return (
      <section class="panel">
        <h1>{failure.loadTitle}</h1>
        <p>{load.error.status === 0 ? failure.unreachable : (load.error.advice ?? load.error.message)}</p>
        <button type="button" class="main" onClick={tryAgain}>
          {failure.again}
        </button>
      </section>
    )
  const { reading, progress } = load
  if (reading.state === 'queued' || reading.state === 'reading')
    return <ProgressView reading={reading} progress={progress} />
  if (result && isRefused(result)) return <RefusedView reading={reading} refusal={result.refusal} />
  if (result) return <LadderView reading={reading} ladder={result} reload={tryAgain} refresh={refresh} />
  return <FailedView reading={reading} reload={tryAgain} />
}
