// npm run bench -- store: how long the data of each page take when much is on record.
import { DatabaseSync } from '@photostructure/sqlite'
import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { quantile } from 'simple-statistics'
import { buildApp } from '../../server/app.js'
import { outcomeOf } from '../../server/storage/reading-outcome.js'
import { RESULT_SCHEMA } from '../../server/storage/result-schema.js'
import { openStore } from '../../server/storage/store.js'
import { answered } from '../support/reading-fixture.js'

const LADDERS = Number(process.env['LADDERS'] ?? 10_000)
const READINGS = 6 * LADDERS
const BOTTLES = 300
const ROUNDS = 60
const GOAL_MS = 150

const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-store-'))
await (await openStore(dataFolder)).close()

// Most results are kept short, or the disk would be filled with the same text; whichever are fetched are whole.
// No two coupons are alike: what does not scatter cannot be compared.
const scattered = Array.from({ length: 7 }, (_, n) => ({
  ...answered,
  rungs: answered.rungs.map((rung) =>
    'haze' in rung && rung.haze
      ? { ...rung, haze: { ...rung.haze, value: rung.haze.value + 0.002 * ((n * rung.slot + n) % 7) } }
      : rung,
  ),
}))
const whole = scattered.map((reading) => JSON.stringify(reading))
const short = scattered.map((reading) =>
  JSON.stringify({ ...reading, rungs: reading.rungs.map((rung) => ({ ...rung, gratings: [] })) }),
)
const idOf = (i: number) => i.toString(36).toUpperCase().padStart(6, '0')
const dayOf = (i: number) => new Date(Date.UTC(2025, 0, 1) + i * 60_000).toISOString()

function fill(): void {
  const db = new DatabaseSync(join(dataFolder, 'stepglass.sqlite'))
  db.exec('begin')
  const record = db.prepare('insert into records values (?, ?, ?, ?, ?, ?, null)')
  const add = (id: string, kind: string, content: object, i: number) =>
    record.run(id, kind, JSON.stringify(content), Object.values(content).join(' ').toLowerCase(), dayOf(i), dayOf(i))
  for (let i = 0; i < BOTTLES; i++) {
    add(`bottle-${i}`, 'bottle', { name: `Bottle ${i}`, batch: `B-${i}` }, i)
    add(`resin-${i}`, 'resin', { name: `Resin ${i}`, maker: `Maker ${i % 20}`, fromC: 20, toC: 30 }, i)
    add(`report-${i}`, 'report', { part: `Part ${i}`, finding: 'brittle', date: '2026-03-01' }, i)
    add(`printer-${i}`, 'printer', { name: `Printer ${i % 20} ${i}`, pixelPitchUm: 34, timeStepS: 0.1 }, i)
  }
  const ladder = db.prepare(
    `insert into ladders (ladder_id, design, created_at, facts, origin) values (?, ?, ?, ?, 'planned')`,
  )
  const photo = db.prepare(`insert into photos values (?, 'jpg', ?, 3000000, 0, ?)`)
  const reading = db.prepare(
    `insert into readings (reading_id, photo_id, options, state, created_at, finished_at, outcome, result, result_schema)
     values (?, ?, '{"toleranceUm":20,"timeStepS":0.1}', 'done', ?, ?, ?, ?, ?)`,
  )
  for (let i = 0; i < LADDERS; i++) {
    const design = { ...answered.design, ladderId: idOf(i) }
    const facts = { bottleId: `bottle-${i % BOTTLES}`, printerId: `printer-${i % BOTTLES}` }
    ladder.run(design.ladderId, JSON.stringify(design), dayOf(i), JSON.stringify(facts))
    if (i % 3 === 0)
      add(`setting-${i}`, 'setting', { exposureS: 2.3, layerHeightUm: 50, origin: 'own', ladderId: idOf(i) }, i)
    const outcome = JSON.stringify(outcomeOf({ ...answered, design }))
    for (let k = 0; k < READINGS / LADDERS; k++) {
      const photoId = createHash('sha256').update(`${i} ${k}`).digest('hex')
      photo.run(photoId, `photo-${i}-${k}.jpg`, dayOf(i))
      const result = (i % 100 === 0 ? whole : short)[(i + k) % scattered.length]!
      const own = result.replace(answered.design.ladderId, design.ladderId)
      reading.run(`reading-${i}-${k}`, photoId, dayOf(i), dayOf(i), outcome, own, RESULT_SCHEMA)
    }
  }
  db.exec('commit; analyze')
  db.close()
}
fill()
const megabytes = statSync(join(dataFolder, 'stepglass.sqlite')).size / 1e6
console.log(
  `${LADDERS} ladders, ${READINGS} readings (results of ${(whole[0]!.length / 1000).toFixed(0)} kB for every hundredth ladder, ` +
    `else ${(short[0]!.length / 1000).toFixed(0)} kB), ${megabytes.toFixed(0)} MB; load average ${loadavg()[0]?.toFixed(1)}`,
)

const app = await buildApp({ dataFolder })
const some = (round: number) => (round * 700) % LADDERS
const pages: Record<string, (round: number) => string[]> = {
  start: () => ['/api/now', '/api/readings?limit=12'],
  ladders: () => ['/api/ladders?limit=25'],
  'ladders, searched': (n) => [`/api/ladders?limit=25&search=bottle%20${some(n) % BOTTLES}`],
  'ladders, last of the list': () => [`/api/ladders?limit=25&offset=${LADDERS - 30}`],
  ladder: (n) => [
    `/api/ladders/${idOf(some(n))}`,
    `/api/ladders/${idOf(some(n))}/plan`,
    `/api/readings?ladderId=${idOf(some(n))}`,
  ],
  'ladder, over its age': (n) => [`/api/ladders/${idOf(some(n))}/ageing`],
  'a new ladder': () => ['/api/now', '/api/bottles?limit=500', '/api/printers?limit=500'],
  reading: (n) => [`/api/readings/reading-${some(n)}-2`],
  'all photos of a ladder': (n) => [`/api/ladders/${idOf(some(n))}/combined`],
  'two photos': (n) => [`/api/readings/reading-${some(n)}-1`, `/api/readings/reading-${some(n)}-2`],
  'reading, what if': (n) => [`/api/readings/reading-${some(n)}-2/expected?exposureS=2.5&layerUm=50`],
  bottles: () => ['/api/bottles?limit=25'],
  'resins, printers, reports': () => ['resins', 'printers', 'reports'].map((kind) => `/api/${kind}?limit=25`),
  'settings, searched': (n) => [`/api/settings?limit=25&search=${idOf(some(n) * 3)}`],
  'a setting handed on': (n) => {
    const setting = `/api/settings/setting-${3 * n}`
    return [setting, `${setting}/sheets`, '/api/settings?limit=100', '/api/printers?limit=100']
  },
  'plan, finish: what they take': () => [
    '/api/readings?limit=100',
    '/api/resins?limit=500',
    '/api/finish/steps?language=de',
  ],
  'phone, data': () => ['/api/invitation', '/api/ladders?limit=1'],
  'compare, its list': () => ['/api/readings?limit=40'],
  'compare, ten photos': (n) => [
    `/api/compare?by=bottle&of=haze&${Array.from({ length: 10 }, (_, i) => `readings=reading-${some(n) + i}-2`).join('&')}`,
  ],
}

let missed = 0
for (const [page, addresses] of Object.entries(pages)) {
  const took: number[] = []
  const worked: number[] = []
  for (let round = 0; round < ROUNDS; round++) {
    const start = performance.now()
    const before = process.cpuUsage()
    // A page asks for all it needs at once.
    const replies = await Promise.all(
      addresses(round).map((url) => app.inject({ url, headers: { host: 'localhost' } })),
    )
    if (replies.some(({ statusCode }) => statusCode !== 200)) throw new Error(`${page}: ${replies[0]?.body}`)
    took.push(performance.now() - start)
    const { user, system } = process.cpuUsage(before)
    worked.push((user + system) / 1000)
  }
  const inMs = (times: number[], share: number) => `${quantile(times, share).toFixed(1).padStart(6)} ms`
  if (quantile(took, 0.95) > GOAL_MS) missed++
  // Where others keep the machine busy a page waits for its turn: the time that it was worked at does not count that.
  console.log(
    `${page.padEnd(28)} median ${inMs(took, 0.5)}   p95 ${inMs(took, 0.95)}   worked at: ` +
      `median ${inMs(worked, 0.5)}   p95 ${inMs(worked, 0.95)}`,
  )
}
console.log(missed === 0 ? `Every page within ${GOAL_MS} ms.` : `${missed} pages beyond ${GOAL_MS} ms.`)
await app.close()
rmSync(dataFolder, { recursive: true })
