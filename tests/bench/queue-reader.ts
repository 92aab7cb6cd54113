import Fastify from 'fastify'
import { once } from 'node:events'
import { setTimeout as wait } from 'node:timers/promises'
import { openPhotoPool, type PhotoPool } from '../../server/worker/photo-pool.js'
import { startReader } from '../../server/worker/start-reader.js'
import { answered } from '../support/reading-fixture.js'

// A reader for the bench of the queue, at the database DATABASE_URL. It really reads one photograph at a time; with
// `empty` it answers at once; with `wait` four at a time, a second later, as one on processors of its own would.
const pool = openPhotoPool({ readers: 1 })
const kinds: Readonly<Record<string, PhotoPool>> = {
  real: pool,
  empty: { ...pool, read: () => Promise.resolve(answered) },
  wait: { ...pool, readers: 4, read: () => wait(1000, answered) },
}
const { log } = Fastify({ logger: { level: 'warn', stream: process.stderr } })
const reader = await startReader(process.env['DATABASE_URL'] ?? '', kinds[process.argv[2] ?? 'real'] ?? pool, log)
console.log('ready')
await once(process, 'SIGTERM')
await reader.close()
process.exit()
