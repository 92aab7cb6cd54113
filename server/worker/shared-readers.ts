import { Logger, runTaskList, type WorkerPool } from 'graphile-worker'
import type { Pool } from 'pg'
import type { FastifyBaseLogger } from 'fastify'
import { MAX_ATTEMPTS } from '../storage/reading-jobs.js'
import type { Store } from '../storage/store.js'
import type { PhotoPool } from './photo-pool.js'
import type { ReadingPace } from './reading-pace.js'
import { readJob, type Reader } from './read-job.js'

export interface SharedReaderOptions {
  /** After this long without a sign of life, others take over what a reader holds. Default: 30 s. */
  readonly lostAfterMs?: number
  /** How long what is under way may take when the process is asked to end. Default: none, it is put back at once. */
  readonly drainMs?: number
}

const START_AGAIN_MS = 5000
const LONGEST_MS = 2 ** 31 - 1

const logTo = (log: FastifyBaseLogger) =>
  new Logger(() => (level: string, message, meta) => {
    if (level === 'error') log.error(meta ?? {}, message)
    else if (level === 'warning') log.warn(meta ?? {}, message)
  })

/**
 * Sees to it that each reading that is to be read has a job that somebody will do: frees those of readers that are gone,
 * and queues again what has no job or one that was given up.
 */
async function putRight(shared: Pool, lostAfterMs: number): Promise<void> {
  const age = `now() - ${lostAfterMs} * interval '1 millisecond'`
  await shared.query(`delete from readers where seen_at < ${age}`)
  await shared.query(`select graphile_worker.force_unlock_workers(array(
    select distinct locked_by from graphile_worker.jobs
    where locked_at < ${age} and locked_by not in (select reader_id from readers)))`)
  await shared.query(`select graphile_worker.complete_jobs(array(
    select id from graphile_worker.jobs where attempts >= max_attempts and locked_at is null))`)
  await shared.query(`update readings set state = 'queued' where state in ('queued', 'reading')
    and not exists (select from graphile_worker.jobs where key = reading_id)`)
}

/**
 * Reads what is queued in a database, beside any number of other processes. Each photograph is held by one of them; one
 * that shows no sign of life loses what it holds, and its late result is not stored.
 */
export function startSharedReaders(
  store: Store,
  shared: Pool,
  pool: PhotoPool,
  pace: ReadingPace,
  log: FastifyBaseLogger,
  tell: Reader['tell'],
  { lostAfterMs = 30_000, drainMs = 0 }: SharedReaderOptions = {},
) {
  const closing = new AbortController()
  const reader = { store, pool, log, tell, closing: closing.signal, attempts: MAX_ATTEMPTS }

  async function read(payload: unknown): Promise<void> {
    const { readingId } = payload as { readingId: string }
    const job = await store.readings.take(readingId)
    if (job) await readJob(job, reader)
  }
  let again: NodeJS.Timeout | undefined
  function start(): WorkerPool {
    const started = runTaskList(
      {
        concurrency: pool.readers,
        logger: logTo(log),
        noHandleSignals: true,
        gracefulShutdownAbortTimeout: LONGEST_MS,
        // What has ended is told to the database again and again until it answers.
        preset: { worker: { completeJobBatchDelay: 0, failJobBatchDelay: 0 } },
      },
      { read },
      shared,
    )
    started.promise.catch((error: unknown) => {
      log.error({ err: error }, 'the queue of readings stopped, and is started again')
      again = setTimeout(() => void (jobs = start()), START_AGAIN_MS)
    })
    return started
  }
  let jobs = start()

  async function beat(): Promise<void> {
    try {
      const { meanS, perS } = pace.own()
      await shared.query(
        `insert into readers values ($1, now(), $2, $3)
          on conflict (reader_id) do update set seen_at = now(), mean_s = $2, per_s = $3`,
        [jobs.id, meanS, perS],
      )
      await putRight(shared, lostAfterMs)
    } catch (error) {
      log.error({ err: error }, 'the database does not answer')
    }
  }
  let beating = beat()
  const heart = setInterval(() => void (beating = beating.then(beat)), lostAfterMs / 3)

  return {
    /** Takes no further job and waits for those under way; what takes too long is put back for others. */
    async close(): Promise<void> {
      const breakOff = async () => {
        closing.abort()
        await pool.close()
      }
      const timer = drainMs > 0 ? setTimeout(() => void breakOff(), drainMs) : undefined
      clearTimeout(again)
      const drained = Promise.resolve(jobs.gracefulShutdown()).catch(() => undefined)
      if (!timer) await breakOff()
      await drained
      clearTimeout(timer)
      if (!closing.signal.aborted) await breakOff()
      clearInterval(heart)
      await beating
      // If the database does not answer, others find out by themselves.
      await shared.query('delete from readers where reader_id = $1', [jobs.id]).catch(() => undefined)
    },
  }
}
