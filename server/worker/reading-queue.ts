import { EventEmitter, on } from 'node:events'
import { existsSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'
import type { FastifyBaseLogger } from 'fastify'
import type { Stage } from '../../analysis/index.js'
import type { ErrorReply } from '../api/common.js'
import type { ReadingProgress } from '../api/readings.js'
import { photoMissing, ServiceError } from '../plugins/errors.js'
import type { ReadingJob } from '../storage/reading-records.js'
import type { Store } from '../storage/store.js'
import { storageTrouble } from '../storage/trouble.js'
import type { PhotoPool } from './photo-pool.js'

const FIRST_RETRY_MS = 1000
const LONGEST_RETRY_MS = 60_000

const asFailure = (error: unknown): ErrorReply =>
  error instanceof ServiceError
    ? { code: error.code, message: error.message, advice: error.advice }
    : {
        code: 'internal',
        message: 'Something went wrong inside Stepglass.',
        advice: 'Read the photograph again. If it happens again, the log of the service says more.',
      }

const ended = ({ state }: ReadingProgress) => state === 'done' || state === 'failed'

/** Reads what the store has queued, oldest first, as many at a time as the pool has readers. */
export function startReadingQueue(store: Store, pool: PhotoPool, log: FastifyBaseLogger) {
  const told = new EventEmitter().setMaxListeners(0)
  const stages = new Map<string, Stage>()
  const closing = new AbortController()
  const lanes = new Set<Promise<void>>()
  let free = pool.readers
  let more = false

  const tell = (readingId: string, progress: ReadingProgress) => told.emit(readingId, progress)

  /** Writes down what may be written later: while the disk is full or away it tries again, and what was read is kept. */
  async function untilWritten<T>(write: () => Promise<T>): Promise<T> {
    for (let waitMs = FIRST_RETRY_MS; ; waitMs = Math.min(2 * waitMs, LONGEST_RETRY_MS))
      try {
        return await write()
      } catch (error) {
        const trouble = storageTrouble(error)
        if (!trouble || closing.signal.aborted) throw error
        log.error({ err: error, retryInMs: waitMs }, trouble.reply.message)
        await wait(waitMs, undefined, { signal: closing.signal }).catch(() => undefined)
      }
  }

  async function read({ readingId, photoId, extension, options }: ReadingJob): Promise<void> {
    const onStage = (stage: Stage) => {
      stages.set(readingId, stage)
      tell(readingId, { state: 'reading', ...stage })
    }
    try {
      const path = store.files.pathOf(photoId, extension)
      if (!existsSync(path)) throw photoMissing()
      const result = await pool.read(path, { ...options, keepProfiles: true }, onStage)
      await untilWritten(() => store.finish(readingId, result))
      tell(readingId, { state: 'done', share: 1 })
    } catch (error) {
      if (closing.signal.aborted) return store.readings.putBack(readingId)
      log.error({ err: error, readingId }, 'reading failed')
      const failure = asFailure(error)
      await untilWritten(() => store.readings.fail(readingId, failure))
      tell(readingId, { state: 'failed', share: 1, failure })
    } finally {
      stages.delete(readingId)
    }
  }

  async function lane(): Promise<void> {
    free--
    try {
      do {
        more = false
        while (!closing.signal.aborted) {
          const job = await untilWritten(() => store.readings.takeNext())
          if (!job) break
          await read(job)
        }
        // Something may have been queued between the last look and here.
      } while (more && !closing.signal.aborted)
    } catch (error) {
      log.error({ err: error }, 'the queue of readings stopped')
    } finally {
      free++
    }
  }

  /** To be called when something was queued. */
  function wake(): void {
    more = true
    // What is read could not be written down.
    if (store.started.trouble) return
    while (free > 0 && !closing.signal.aborted) {
      const running = lane()
      lanes.add(running)
      void running.finally(() => lanes.delete(running))
    }
  }

  return {
    wake,

    /** Where a reading stands, then every change until it has ended, the signal aborts or the queue closes. */
    async *follow(readingId: string, signal: AbortSignal): AsyncGenerator<ReadingProgress> {
      const until = AbortSignal.any([signal, closing.signal])
      if (until.aborted) return
      const changes = on(told, readingId, { signal: until }) as AsyncIterableIterator<[ReadingProgress]>
      try {
        const reading = await store.readings.get(readingId)
        if (!reading) return
        const { state, failure } = reading
        const now: ReadingProgress = { state, share: 0, ...stages.get(readingId), ...(failure && { failure }) }
        yield ended(now) ? { ...now, share: 1 } : now
        if (ended(now)) return
        for await (const [change] of changes) {
          yield change
          if (ended(change)) return
        }
      } catch (error) {
        if (!until.aborted) throw error
      } finally {
        await changes.return?.()
      }
    },

    /** Ends what is under way; the next start takes it up again. */
    async close(): Promise<void> {
      closing.abort()
      await pool.close()
      await Promise.all(lanes)
    },
  }
}
export type ReadingQueue = ReturnType<typeof startReadingQueue>
