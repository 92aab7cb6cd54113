import Fastify from 'fastify'
import { availableParallelism } from 'node:os'
import { configurationFrom } from './configuration.js'
import { endWith, UsageError } from './usage-error.js'
import { openPhotoPool } from './worker/photo-pool.js'
import { startReader } from './worker/start-reader.js'

/** Reads for the services of DATABASE_URL until the process is asked to end; by default on every core. */
async function read(): Promise<void> {
  const configuration = configurationFrom({ READERS: String(availableParallelism()), ...process.env })
  const { DATABASE_URL, READERS, READER_MEMORY_MB, READING_LIMIT_S, LOG_LEVEL } = configuration
  if (DATABASE_URL === undefined || READERS === 0)
    throw new UsageError('Set DATABASE_URL to the database of the services, and READERS to 1 or more or not at all.')
  const timeLimitMs = READING_LIMIT_S * 1000
  const pool = openPhotoPool({ readers: READERS, memoryMb: READER_MEMORY_MB, timeLimitMs })
  const { log } = Fastify({ logger: { level: LOG_LEVEL, stream: process.stderr } })
  const reader = await startReader(DATABASE_URL, pool, log, { drainMs: timeLimitMs })
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      console.log('Finishing what is under way')
      void reader.close()
    })
  const { host, pathname } = new URL(DATABASE_URL)
  console.log(`Reading for ${host}${pathname}, ${READERS} at a time`)
}

await read().catch(endWith)
