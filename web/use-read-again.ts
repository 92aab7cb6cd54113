import { useState } from 'preact/hooks'
import type { ReadingOptions } from '../server/api/readings.js'
import { readAgain } from './api-client.js'
import { goTo, readingAddress } from './route.js'
import { texts } from './texts/page.js'
import { toFailure, type Failure } from './views/failure-note.js'

/**
 * Starts another reading of the same photograph and goes to it.
 *
 * @param reload called instead when the service makes this very reading anew
 */
export function useReadAgain(readingId: string, reload: () => void) {
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()
  const start = async (options: ReadingOptions) => {
    setBusy(true)
    setFailure(undefined)
    try {
      const started = await readAgain(readingId, options)
      if (started.readingId === readingId) reload()
      else goTo(readingAddress(started.readingId))
    } catch (error) {
      setFailure(toFailure(error, texts.options.failed))
    }
    setBusy(false)
  }
  return { start: (options: ReadingOptions) => void start(options), busy, failure }
}
