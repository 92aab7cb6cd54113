import type { FastifyBaseLogger } from 'fastify'
import { openStore } from '../storage/store.js'
import type { PhotoPool } from './photo-pool.js'
import { readingPace } from './reading-pace.js'
import { tellServices } from './shared-queue.js'
import { startSharedReaders, type SharedReaderOptions } from './shared-readers.js'
import { timedPool } from './timed-pool.js'

/**
 * Reads what the services of a database have queued.
 *
 * @throws {UsageError} if the database cannot be opened
 */
export async function startReader(
  databaseUrl: string,
  untimed: PhotoPool,
  log: FastifyBaseLogger,
  options?: SharedReaderOptions,
): Promise<{ close: () => Promise<void> }> {
  const store = await openStore('', databaseUrl)
  if (!store.shared) throw new TypeError('startReader needs a database that is shared')
  const pace = readingPace(untimed.readers)
  const pool = timedPool(untimed, pace.note)
  const readers = startSharedReaders(store, store.shared, pool, pace, log, tellServices(store.shared, log), options)
  return {
    /** Finishes what is under way. */
    async close() {
      await readers.close()
      await store.close()
    },
  }
}
