import Fastify from 'fastify'
import { once } from 'node:events'
import { openPhotoPool } from '../../server/worker/photo-pool.js'
import { startReader } from '../../server/worker/start-reader.js'
import { answered } from '../support/reading-fixture.js'

// A reader for the bench of the queue, at the database DATABASE_URL: it really reads, or with `empty` answers at once.
const pool = openPhotoPool({ readers: 1 })
const empty = { ...pool, read: () => Promise.resolve(answered) }
const { log } = Fastify({ logger: { level: 'warn', stream: process.stderr } })
const reader = await startReader(process.env['DATABASE_URL'] ?? '', process.argv[2] === 'empty' ? empty : pool, log)
console.log('ready')
await once(process, 'SIGTERM')
await reader.close()
process.exit()
