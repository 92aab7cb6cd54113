import Fastify from 'fastify'
import { randomUUID } from 'node:crypto'
import { once } from 'node:events'
import { setTimeout as wait } from 'node:timers/promises'
import { buildApp } from '../../../server/app.js'
import { startReader } from '../../../server/worker/start-reader.js'
import { madeUpReading } from './made-up-reading.js'
import { endlessPool, poolOf } from './pools.js'

// One of several processes at the database DATABASE_URL: `service`, which reads nothing itself, `reader`, `slow`, a
// reader that is under way with a photograph until it is asked to end, or `stuck`, one that never comes to an end.
const { DATABASE_URL: databaseUrl = '' } = process.env
const role = process.argv[2]
const READING_MS = 100

const asked = once(process, 'SIGTERM').then(() => console.log('is asked to end'))
const reading = poolOf(async () => {
  console.log('takes a photograph')
  if (role === 'slow') await asked
  await wait(READING_MS)
  console.log('has read it')
  const ladderId = randomUUID().slice(0, 6).toUpperCase()
  return { ...madeUpReading, design: { ...madeUpReading.design, ladderId } }
})

if (role === 'service') {
  const app = await buildApp({ dataFolder: '', databaseUrl, pool: reading, sharing: { reads: false } })
  console.log(await app.listen({ port: 0, host: '127.0.0.1' }))
} else {
  const { log } = Fastify({ logger: { level: 'warn', stream: process.stderr } })
  const pool = role === 'stuck' ? endlessPool() : reading
  const reader = await startReader(databaseUrl, pool, log, { lostAfterMs: 2000, drainMs: 60_000 })
  console.log('is ready')
  await asked
  await reader.close()
}
