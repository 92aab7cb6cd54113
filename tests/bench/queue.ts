// npm run bench -- queue [empty|wait|real]: readings a second against readers at one PostgreSQL and in one data folder, what
// the queue adds to each, and the bytes a photograph takes. EMPTY and PHOTOS: how many. Linux only.
import Fastify from 'fastify'
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import type { LadderReading } from '../../analysis/index.js'
import { openStore, type Store } from '../../server/storage/store.js'
import { openPhotoPool } from '../../server/worker/photo-pool.js'
import { startReadingQueue } from '../../server/worker/reading-queue.js'
import { createDatabase, startPostgres } from '../support/postgres.js'
import { answered } from '../support/reading-fixture.js'
import { cpuSecondsOf } from './cpu-seconds.js'

const COUNT = { empty: Number(process.env['EMPTY'] ?? 300), wait: 120, real: Number(process.env['PHOTOS'] ?? 12) }
const READERS = { empty: [1, 2, 3], wait: [1, 2, 3], real: [1, 2] }
/** Looking costs the database something, too. */
const POLL_MS = { empty: 100, wait: 100, real: 500 }
type Kind = keyof typeof COUNT
const kinds: readonly Kind[] = process.argv[3] === undefined ? ['empty', 'wait', 'real'] : [process.argv[3] as Kind]
const photo = readFileSync('samples/demo-ladder-phone.jpg')
const folder = mkdtempSync(join(tmpdir(), 'stepglass-queue-'))
const server = await startPostgres()
const say = (line: string) => console.log(line)
const kB = (bytes: number) => `${Math.round(bytes / 1000)} kB`

/** Queues photographs of which no two are the same: what follows the end of the picture differs. */
async function queue(store: Store, kind: Kind, count: number): Promise<void> {
  for (let i = 0; i < count; i++) {
    const file = join(folder, 'photo')
    writeFileSync(file, Buffer.concat([kind === 'real' ? photo : Buffer.alloc(0), Buffer.from(crypto.randomUUID())]))
    const received = await store.files.receiveFile(file)
    await store.accept(received, { name: 'bench.jpg', extension: 'jpg', simulated: false }, {})
    await store.files.discard(received)
  }
}

async function untilRead(store: Store, kind: Kind): Promise<void> {
  while ((await store.readings.waiting()) > 0) await wait(POLL_MS[kind])
}

async function startReaders(count: number, kind: Kind, DATABASE_URL: string) {
  const program = fileURLToPath(new URL('./queue-reader.ts', import.meta.url))
  const readers = Array.from({ length: count }, () =>
    spawn(process.execPath, ['--import', 'tsx', program, kind], {
      env: { ...process.env, DATABASE_URL },
      stdio: ['ignore', 'pipe', 'inherit'],
    }),
  )
  await Promise.all(readers.map((reader) => once(reader.stdout, 'data')))
  return {
    cpuS: () => readers.reduce((sum, { pid }) => sum + cpuSecondsOf(pid ?? 0), 0),
    stop: async () => {
      for (const reader of readers) reader.kill('SIGTERM')
      await Promise.all(readers.map((reader) => once(reader, 'exit')))
    },
  }
}

/** Has everything queued before anybody may take it. @returns seconds from then on */
async function timeReading(store: Store, kind: Kind, count: number): Promise<number> {
  await store.shared!.query('alter table readings disable trigger queue_reading')
  await queue(store, kind, count)
  await store.shared!.query('alter table readings enable trigger queue_reading')
  const started = performance.now()
  await store.shared!.query(`update readings set state = 'queued' where state = 'queued'`)
  await untilRead(store, kind)
  return (performance.now() - started) / 1000
}

async function onPostgres(kind: Kind, count: number, readers: number): Promise<LadderReading | undefined> {
  const address = await createDatabase(server.address)
  const store = await openStore('', address)
  const one = async (query: string) => Number(Object.values((await store.shared!.query(query)).rows[0] as object)[0])
  const running = await startReaders(readers, kind, address)
  // Each reader starts what it reads with at its first photograph.
  await timeReading(store, kind, kind === 'wait' ? 4 * readers : 2 * readers)
  const look = async () => ({
    readers: running.cpuS(),
    postgres: cpuSecondsOf(server.pid),
    parts: await one(`select pg_total_relation_size('photo_parts')`),
    rows: await one(`select pg_total_relation_size('readings')`),
    log: await one(`select pg_wal_lsn_diff(pg_current_wal_lsn(), '0/0')`),
  })
  const before = await look()
  const tookS = await timeReading(store, kind, count)
  const after = await look()
  const each = (what: keyof typeof before) => (after[what] - before[what]) / count
  const connections = await one('select count(*) from pg_stat_activity where datname = current_database()')
  say(
    `PostgreSQL, ${kind}, ${readers} readers: ${(count / tookS).toFixed(2)} a second; each takes ` +
      `${(1000 * each('readers')).toFixed(1)} ms of processor in a reader and ${(1000 * each('postgres')).toFixed(1)} ms in ` +
      `PostgreSQL, ${kB(each('parts'))} for the photograph, ${kB(each('rows'))} for the reading, ${kB(each('log'))} of log; ` +
      `${connections} connections; load ${loadavg()[0]?.toFixed(1)}`,
  )
  await running.stop()
  const { readings } = await store.readings.list({ limit: 1, offset: 0 })
  const reply = await store.readings.get(readings[0]?.readingId ?? '')
  await store.close()
  return reply?.result
}

const sizeOf = (path: string): number =>
  statSync(path).isDirectory()
    ? readdirSync(path).reduce((sum, name) => sum + sizeOf(join(path, name)), 0)
    : statSync(path).size

/** The queue of a service by itself, which answers at once; with the result of a photograph that was really read. */
async function inFolder(kind: Kind, count: number, result: LadderReading): Promise<void> {
  const dataFolder = join(folder, `data-${kind}`)
  const store = await openStore(dataFolder)
  const { log } = Fastify({ logger: { level: 'warn', stream: process.stderr } })
  await queue(store, kind, count)
  const pool = openPhotoPool({ readers: 1 })
  const started = performance.now()
  const cpu = process.cpuUsage()
  const reading = startReadingQueue(store, { ...pool, read: () => Promise.resolve(result) }, log)
  reading.wake()
  await untilRead(store, kind)
  const tookS = (performance.now() - started) / 1000
  const { user, system } = process.cpuUsage(cpu)
  await reading.close()
  await store.close()
  say(
    `data folder, results of ${kind} ones: ${(count / tookS).toFixed(1)} a second without reading them, ` +
      `${((user + system) / 1000 / count).toFixed(1)} ms of processor each; ` +
      `${kB(sizeOf(join(dataFolder, 'photos')) / count)} for the photograph, ` +
      `${kB(statSync(join(dataFolder, 'stepglass.sqlite')).size / count)} for the reading; load ${loadavg()[0]?.toFixed(1)}`,
  )
}

try {
  for (const kind of kinds) {
    let result: LadderReading = answered
    for (const readers of READERS[kind]) result = (await onPostgres(kind, COUNT[kind], readers)) ?? result
    if (kind !== 'wait') await inFolder(kind, COUNT[kind], result)
  }
} finally {
  await server.stop()
  rmSync(folder, { recursive: true, force: true })
}
