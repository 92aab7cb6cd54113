import { useCallback, useEffect, useState } from 'preact/hooks'
import type { ReadingProgress, ReadingReply } from '../server/api/readings.js'
import { getReading, ServiceError, watchProgress } from './api-client.js'

export type ReadingLoad =
  | { readonly kind: 'loading' }
  | { readonly kind: 'missing' }
  | { readonly kind: 'unreachable'; readonly error: ServiceError }
  | { readonly kind: 'loaded'; readonly reading: ReadingReply; readonly progress?: ReadingProgress }

/** One reading, followed until it has ended. */
export function useReading(readingId: string): { load: ReadingLoad; tryAgain: () => void; refresh: () => void } {
  const [load, setLoad] = useState<ReadingLoad>({ kind: 'loading' })
  const [attempt, setAttempt] = useState(0)
  useEffect(() => {
    let gone = false
    let stop = (): void => undefined
    const fetchIt = async (): Promise<void> => {
      try {
        const reading = await getReading(readingId)
        if (gone) return
        setLoad({ kind: 'loaded', reading })
        if (reading.state !== 'queued' && reading.state !== 'reading') return
        const show = (progress: ReadingProgress) => setLoad({ kind: 'loaded', reading, progress })
        stop = watchProgress(readingId, show, () => void fetchIt())
      } catch (error) {
        if (!(error instanceof ServiceError)) throw error
        if (!gone) setLoad(error.status === 404 ? { kind: 'missing' } : { kind: 'unreachable', error })
      }
    }
    void fetchIt()
    return () => {
      gone = true
      stop()
    }
  }, [readingId, attempt])
  const tryAgain = useCallback(() => {
    setLoad({ kind: 'loading' })
    setAttempt((n) => n + 1)
  }, [])
  const refresh = useCallback(() => setAttempt((n) => n + 1), [])
  return { load, tryAgain, refresh }
}
