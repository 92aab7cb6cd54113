import type { FastifyBaseLogger } from 'fastify'
import { setTimeout as wait } from 'node:timers/promises'
import type { ErrorReply } from '../api/common.js'
import type { ReadingProgress } from '../api/readings.js'
import { ServiceError } from '../plugins/errors.js'
import type { ReadingJob } from '../storage/reading-jobs.js'
import type { Store } from '../storage/store.js'
import { storageTrouble } from '../storage/trouble.js'
import type { PhotoPool } from './photo-pool.js'

export interface Reader {
  readonly store: Store
  readonly pool: PhotoPool
  readonly log: FastifyBaseLogger
  readonly tell: (readingId: string, progress: ReadingProgress) => void
  /** Aborts when the reader ends; what is under way is then put back. */
  readonly closing: AbortSignal
  /** How often a photograph at which the reader broke off is read. */
  readonly attempts: number
}

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

/** Writes down what may be written later: while the disk is full or away it tries again, and what was read is kept. */
export async function untilWritten<T>(
  write: () => Promise<T>,
  { log, closing }: Pick<Reader, 'log' | 'closing'>,
): Promise<T> {
  for (let waitMs = FIRST_RETRY_MS; ; waitMs = Math.min(2 * waitMs, LONGEST_RETRY_MS))
    try {
      return await write()
    } catch (error) {
      const trouble = storageTrouble(error)
      if (!trouble || closing.aborted) throw error
      log.error({ err: error, retryInMs: waitMs }, trouble.reply.message)
      await wait(waitMs, undefined, { signal: closing }).catch(() => undefined)
    }
}

/** Reads a photograph that was taken from the queue, and stores what came of it unless somebody else took it since. */
export async function readJob(job: ReadingJob, reader: Reader): Promise<void> {
  const { store, pool, log, tell, closing, attempts } = reader
  const { readingId, photoId, extension, options, attempt } = job
  try {
    const result = await store.files.use(photoId, extension, (path) =>
      pool.read(path, { ...options, keepProfiles: true }, (stage) => tell(readingId, { state: 'reading', ...stage })),
    )
    if (await untilWritten(() => store.finish(job, result), reader)) tell(readingId, { state: 'done', share: 1 })
  } catch (error) {
    if (closing.aborted) return store.readings.putBack(job)
    log.error({ err: error, readingId, attempt }, 'reading failed')
    if (attempt < attempts) {
      await store.readings.tryAgain(job)
      return tell(readingId, { state: 'queued', share: 0 })
    }
    const failure = asFailure(error)
    if (await untilWritten(() => store.readings.fail(job, failure), reader))
      tell(readingId, { state: 'failed', share: 1, failure })
  }
}
