import type { FastifyBaseLogger } from 'fastify'
import type { ReadingProgress } from '../api/readings.js'
import type { Store } from '../storage/store.js'
import type { PhotoPool } from './photo-pool.js'
import { readJob, untilWritten } from './read-job.js'
import { readingProgress } from './reading-progress.js'

export interface ReadingQueue {
  /** To be called when something was queued. */
  readonly wake: () => void
  /** Where a reading stands, then every change until it has ended, the signal aborts or the queue closes. */
  readonly follow: (readingId: string, signal: AbortSignal) => AsyncGenerator<ReadingProgress>
  /** Ends what is under way; it is taken up again at the next start, or by another reader. */
  readonly close: () => Promise<void>
}

/** Reads what the store has queued, oldest first, as many at a time as the pool has readers. */
export function startReadingQueue(store: Store, pool: PhotoPool, log: FastifyBaseLogger): ReadingQueue {
  const closing = new AbortController()
  const { tell, follow } = readingProgress(store, closing.signal)
  const reader = { store, pool, log, tell, closing: closing.signal, attempts: 1 }
  const lanes = new Set<Promise<void>>()
  let free = pool.readers
  let more = false

  async function lane(): Promise<void> {
    free--
    try {
      do {
        more = false
        while (!closing.signal.aborted) {
          const job = await untilWritten(() => store.readings.take(), reader)
          if (!job) break
          await readJob(job, reader)
        }
        // Something may have been queued between the last look and here.
      } while (more && !closing.signal.aborted)
    } catch (error) {
      log.error({ err: error }, 'the queue of readings stopped')
    } finally {
      free++
    }
  }

  return {
    follow,

    wake() {
      if (store.started.trouble) return
      more = true
      while (free > 0 && !closing.signal.aborted) {
        const running = lane()
        lanes.add(running)
        void running.finally(() => lanes.delete(running))
      }
    },

    async close() {
      closing.abort()
      await pool.close()
      await Promise.all(lanes)
    },
  }
}
