import { expect, it } from 'vitest'
import type { ErrorReply } from '../../server/api/common.js'
import type { PhotoAccepted, ReadingProgress } from '../../server/api/readings.js'
import { readingPace } from '../../server/worker/reading-pace.js'
import { timedPool } from '../../server/worker/timed-pool.js'
import { withWaiting } from '../../server/worker/with-waiting.js'
import { madeUpReading } from './support/made-up-reading.js'
import { endlessPool, poolOf, sureOf } from './support/pools.js'
import { plainPhoto, startService } from './support/service.js'

const shades = (count: number) => Promise.all(Array.from({ length: count }, (_, i) => plainPhoto(`#1010${10 + i}`)))

it('tells whoever uploads how many are before and how long that takes', async () => {
  const service = await startService({ pool: endlessPool() })
  const replies = []
  for (const photo of await shades(3)) {
    replies.push((await service.upload(photo)).json<PhotoAccepted>().waiting)
    // The first is taken up before the second comes.
    await expect.poll(async () => (await service.get('/api/readings')).body).toContain('"reading"')
  }
  // A reading is taken to last 5 s before one has been read.
  expect(replies).toEqual([undefined, { ahead: 1, estimatedS: 10 }, { ahead: 2, estimatedS: 15 }])
})

it('turns away what has no place, however many come at once, and says when to come again', async () => {
  const service = await startService({ pool: endlessPool(), maxWaiting: 3 })
  const replies = await Promise.all((await shades(8)).map((photo) => service.upload(photo)))
  const taken = replies.filter(({ statusCode }) => statusCode === 202)
  const away = replies.filter(({ statusCode }) => statusCode === 429)
  expect([taken.length, away.length]).toEqual([3, 5])
  for (const reply of away) {
    expect(Number(reply.headers['retry-after'])).toBe(5)
    expect(reply.json<ErrorReply>()).toMatchObject({ code: 'too-many-waiting', advice: 'Send this one again in 5 s.' })
  }
  expect(await service.storedFiles()).toHaveLength(3)
})

it('goes by how long the last readings took', async () => {
  let nowMs = 0
  const slow = poolOf(async () => {
    nowMs += 2000
    return madeUpReading
  })
  const pace = readingPace(2)
  const pool = timedPool(slow, pace.note, () => nowMs)
  const waiting = (ahead: number | undefined) => pace.waitingOf('any', { ahead: async () => ahead })
  expect(await waiting(4)).toEqual({ ahead: 4, estimatedS: 15 })
  await pool.read('photo', {}, () => undefined)
  expect(await waiting(4)).toEqual({ ahead: 4, estimatedS: 6 })
  expect(await waiting(0)).toBeUndefined()
  expect(await waiting(undefined)).toBeUndefined()
  expect(await pace.nextPlaceS()).toBe(1)
})

it('says anew how long it takes while it waits, and then only what happens', async () => {
  let takeUp = () => {}
  const taken = new Promise<void>((resolve) => (takeUp = resolve))
  async function* progress(): AsyncGenerator<ReadingProgress> {
    yield { state: 'queued', share: 0 }
    await taken
    yield { state: 'reading', share: 0.5 }
    yield { state: 'done', share: 1 }
  }
  let ahead = 3
  const waitingOf = async () => (--ahead > 0 ? { ahead, estimatedS: 5 * ahead } : (takeUp(), undefined))
  const told = []
  for await (const one of withWaiting(progress(), waitingOf, 5)) told.push(one)
  expect(told).toEqual([
    { state: 'queued', share: 0, waiting: { ahead: 2, estimatedS: 10 } },
    { state: 'queued', share: 0, waiting: { ahead: 1, estimatedS: 5 } },
    { state: 'queued', share: 0 },
    { state: 'reading', share: 0.5 },
    { state: 'done', share: 1 },
  ])
})

it('counts requests by route and readings by their end, for Prometheus', async () => {
  const service = await startService({ pool: sureOf(madeUpReading) })
  await service.ended((await service.upload(await plainPhoto())).json<PhotoAccepted>())
  const { headers, body } = await service.get('/metrics')
  expect(headers['content-type']).toContain('text/plain')
  expect(body).toContain('stepglass_reading_seconds_count{end="read"} 1')
  expect(body).toMatch(
    /stepglass_request_seconds_count\{method="GET",route="\/api\/readings\/:readingId",status="200"\} 1/,
  )
  expect(body).toContain('stepglass_readings_waiting 0')
  expect(body).toMatch(/process_resident_memory_bytes \d{7,}/)
})

it('says to whom watches over it that it lives, and that its records answer, and that without a passphrase', async () => {
  const { app } = await startService({ passphrase: 'clear as glass' })
  const ask = (url: string) => app.inject({ url, headers: { host: 'bench.local' } })
  expect((await ask('/api/live')).json()).toEqual({ status: 'live' })
  expect((await ask('/api/ready')).json()).toEqual({ status: 'ready' })
  Object.assign(app.service.store.readings, { waiting: () => Promise.reject(new Error('gone')) })
  const reply = await ask('/api/ready')
  expect([reply.statusCode, reply.json<ErrorReply>().code]).toEqual([503, 'not-ready'])
  expect((await ask('/api/live')).statusCode).toBe(200)
})
