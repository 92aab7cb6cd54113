import { once } from 'node:events'
import { connect, createServer, type AddressInfo, type Server, type Socket } from 'node:net'
import { expect, it, onTestFinished } from 'vitest'
import type { PhotoAccepted, ReadingReply } from '../../../server/api/readings.js'
import { newDatabase } from '../support/database.js'
import { madeUpReading } from '../support/made-up-reading.js'
import { poolOf } from '../support/pools.js'
import { plainPhoto, startService } from '../support/service.js'

/** A way to a database that can be cut and mended. */
async function wayTo(databaseUrl: string) {
  const url = new URL(databaseUrl)
  const open = new Set<Socket>()
  let server: Server
  let port = 0
  async function mend(): Promise<void> {
    server = createServer((from) => {
      const to = connect(Number(url.port), url.hostname)
      from.pipe(to).pipe(from)
      for (const socket of [from, to]) {
        open.add(socket)
        socket.on('error', () => undefined).once('close', () => open.delete(socket))
      }
    }).listen(port, '127.0.0.1')
    await once(server, 'listening')
    port = (server.address() as AddressInfo).port
  }
  const cut = () => {
    server.close()
    for (const socket of open) socket.destroy()
  }
  await mend()
  onTestFinished(cut)
  return { address: Object.assign(new URL(databaseUrl), { port: String(port) }).href, cut, mend }
}

it('says that the database is away, keeps what was read meanwhile, and goes on when it is back', async () => {
  const way = await wayTo(await newDatabase())
  let taken = 0
  let goOn = () => {}
  const cutOff = new Promise<void>((resolve) => (goOn = resolve))
  const pool = poolOf(async () => {
    taken += 1
    await cutOff
    return madeUpReading
  })
  // Nobody takes over from a reader for being cut off a short while.
  const { get, upload } = await startService({ databaseUrl: way.address, pool, sharing: { lostAfterMs: 60_000 } })
  const { readingId } = (await upload(await plainPhoto())).json<PhotoAccepted>()
  await expect.poll(() => taken, { timeout: 20_000 }).toBe(1)

  way.cut()
  goOn()
  const away = { statusCode: 503, code: 'database-away' }
  for (const ask of [
    () => get('/api/readings'),
    () => get('/api/health'),
    async () => upload(await plainPhoto('#102030')),
  ]) {
    const reply = await ask()
    expect({ statusCode: reply.statusCode, ...reply.json<object>() }).toMatchObject(away)
  }
  expect((await get('/api/ready')).statusCode).toBe(503)
  expect((await get('/api/live')).statusCode).toBe(200)

  await way.mend()
  const read = async () => (await get(`/api/readings/${readingId}`)).json<ReadingReply>()
  await expect
    .poll(read, { timeout: 30_000 })
    .toMatchObject({ state: 'done', result: { design: madeUpReading.design } })
  expect(taken).toBe(1)
  expect((await upload(await plainPhoto('#102030'))).statusCode).toBe(202)
  await expect.poll(() => taken, { timeout: 30_000 }).toBe(2)
})
