import { setTimeout as wait } from 'node:timers/promises'
import type { FastifyBaseLogger } from 'fastify'
import type { Pool, PoolClient } from 'pg'
import type { ReadingProgress } from '../api/readings.js'
import type { Store } from '../storage/store.js'
import type { PhotoPool } from './photo-pool.js'
import type { ReadingPace } from './reading-pace.js'
import { readingProgress } from './reading-progress.js'
import type { ReadingQueue } from './reading-queue.js'
import { startSharedReaders, type SharedReaderOptions } from './shared-readers.js'

const CHANNEL = 'stepglass_progress'
const LOOK_AGAIN_MS = 3000
const CONNECT_AGAIN_MS = 1000

interface Told {
  readonly readingId: string
  readonly progress: ReadingProgress
}

/** Tells every service how a reading gets on, in the order in which it is told. */
export function tellServices(
  shared: Pool,
  log: FastifyBaseLogger,
): (readingId: string, progress: ReadingProgress) => void {
  let last: Promise<unknown> = Promise.resolve()
  return (readingId, progress) => {
    const told: Told = { readingId, progress }
    last = last
      .then(() => shared.query('select pg_notify($1, $2)', [CHANNEL, JSON.stringify(told)]))
      .catch((error: unknown) => log.warn({ err: error }, 'progress could not be told'))
  }
}

/** Hears what is told, over a connection of its own that is made anew when it breaks. */
async function hear(shared: Pool, onTold: (told: Told) => void, closing: AbortSignal): Promise<void> {
  while (!closing.aborted) {
    let connection: PoolClient | undefined
    try {
      connection = await shared.connect()
      const broken = new Promise<void>((resolve) => {
        connection?.once('error', () => resolve())
        closing.addEventListener('abort', () => resolve(), { once: true })
      })
      connection.on('notification', ({ payload = '' }) => onTold(JSON.parse(payload) as Told))
      await connection.query(`listen ${CHANNEL}`)
      await broken
    } catch {
      // What is missed meanwhile, the look at the readings finds.
    }
    connection?.release(true)
    if (!closing.aborted) await wait(CONNECT_AGAIN_MS)
  }
}

export interface SharedQueueOptions extends SharedReaderOptions {
  /** Whether this process reads as well. Default: true. */
  readonly reads?: boolean
}

/** The queue in a database that several services and readers share. */
export function startSharedQueue(
  store: Store,
  shared: Pool,
  pool: PhotoPool,
  pace: ReadingPace,
  log: FastifyBaseLogger,
  { reads = true, ...options }: SharedQueueOptions = {},
): ReadingQueue {
  const closing = new AbortController()
  const { tell, lookAgain, follow } = readingProgress(store, closing.signal)
  const hearing = hear(shared, ({ readingId, progress }) => tell(readingId, progress), closing.signal)
  const looking = setInterval(() => void lookAgain().catch(() => undefined), LOOK_AGAIN_MS)
  const readers = reads ? startSharedReaders(store, shared, pool, pace, log, tellServices(shared, log), options) : pool

  return {
    follow,
    wake: () => undefined,

    async close() {
      closing.abort()
      clearInterval(looking)
      await Promise.all([readers.close(), hearing])
    },
  }
}
