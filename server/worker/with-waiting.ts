import { setTimeout as wait } from 'node:timers/promises'
import type { ReadingProgress, Waiting } from '../api/readings.js'

const AGAIN_MS = 3000
const SAY_AGAIN = Symbol('say again')

/** A reading's progress that tells, as long as it waits, how long it still has to: others before it get done meanwhile. */
export async function* withWaiting(
  progress: AsyncGenerator<ReadingProgress>,
  waitingOf: () => Promise<Waiting | undefined>,
  againMs = AGAIN_MS,
): AsyncGenerator<ReadingProgress> {
  let last: ReadingProgress | undefined
  let coming = progress.next()
  try {
    for (;;) {
      const timer = new AbortController()
      const again = wait(againMs, SAY_AGAIN, { signal: timer.signal }).catch(() => SAY_AGAIN)
      const next = await (last?.state === 'queued' ? Promise.race([coming, again]) : coming)
      timer.abort()
      if (typeof next !== 'symbol') {
        if (next.done) return
        last = next.value
        coming = progress.next()
      }
      const waiting = last?.state === 'queued' ? await waitingOf() : undefined
      if (last) yield { ...last, ...(waiting && { waiting }) }
    }
  } finally {
    coming.catch(() => undefined)
    await progress.return(undefined)
  }
}
