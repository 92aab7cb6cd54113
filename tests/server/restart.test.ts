import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it, vi } from 'vitest'
import type { LadderList } from '../../server/api/ladders.js'
import type { PhotoAccepted, ReadingList, ReadingReply } from '../../server/api/readings.js'
import { openStore } from '../../server/storage/store.js'
import { runFile } from './support/child.js'
import { databaseOf, onPostgres } from './support/database.js'
import { madeUpReading } from './support/made-up-reading.js'
import { endlessPool } from './support/pools.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

// Processes of their own take their time to start on a busy machine.
vi.setConfig({ testTimeout: 180_000 })

/** For a process of its own. */
async function placeOf(dataFolder: string): Promise<NodeJS.ProcessEnv> {
  const databaseUrl = await databaseOf(dataFolder)
  return databaseUrl === undefined ? {} : { DATABASE_URL: databaseUrl }
}

const endlessService = new URL('./support/serve-without-end.ts', import.meta.url)

it('has everything after a restart', async () => {
  const dataFolder = scratchFolder()
  const before = await startService({ dataFolder })
  const photo = await plainPhoto()
  const accepted = (await before.upload(photo, { toleranceUm: '12' })).json<PhotoAccepted>()
  await before.ended(accepted)
  await before.post('/api/ladders/plan', { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3] })
  const addresses = ['/api/readings', `/api/readings/${accepted.readingId}`, '/api/ladders']
  const kept = await Promise.all(addresses.map(async (url) => (await before.get(url)).json<unknown>()))
  expect((kept[2] as LadderList).ladders).toHaveLength(2)
  await before.app.close()

  const after = await startService({ dataFolder })
  expect(await Promise.all(addresses.map(async (url) => (await after.get(url)).json<unknown>()))).toEqual(kept)
  expect((await after.upload(photo, { toleranceUm: '12' })).json()).toEqual(accepted)
})

it('loses nothing it acknowledged when the process is killed, and reads what was under way or waiting', async () => {
  const dataFolder = scratchFolder()
  const child = runFile(endlessService, [dataFolder], await placeOf(dataFolder))
  const [address] = await child.line(/^http.*$/)
  const photos = await Promise.all(['#101010', '#202020', '#303030'].map(plainPhoto))
  const accepted: PhotoAccepted[] = []
  for (const photo of photos) {
    const form = new FormData()
    form.set('photo', new Blob([new Uint8Array(photo)]), 'bench.png')
    accepted.push(
      (await (await fetch(`${address}/api/photos`, { method: 'POST', body: form })).json()) as PhotoAccepted,
    )
  }
  const first = async () =>
    (await (await fetch(`${address}/api/readings/${accepted[0]?.readingId}`)).json()) as ReadingReply
  await expect.poll(async () => (await first()).state, { timeout: 20_000 }).toBe('reading')
  child.process.kill('SIGKILL')
  expect((await child.ended)[1]).toBe('SIGKILL')
  // As if an upload had been under way as well.
  mkdirSync(join(dataFolder, 'incoming'), { recursive: true })
  writeFileSync(join(dataFolder, 'incoming', 'half'), 'half a photograph')

  const service = await startService({ dataFolder })
  for (const [i, one] of accepted.entries()) {
    const { readingId, photoId } = one
    const read = { readingId, photoId, state: 'done', result: { design: madeUpReading.design } }
    expect(await service.ended(one)).toMatchObject(read)
    expect((await service.keptPhoto(one.photoId))?.equals(photos[i] ?? Buffer.of())).toBe(true)
  }
  expect(await service.storedFiles()).toHaveLength(accepted.length)
})

it('takes up what was under way when it was closed, and counts that as no attempt', async () => {
  const dataFolder = scratchFolder()
  let accepted: PhotoAccepted | undefined
  for (let i = 0; i < 5; i++) {
    const service = await startService({ dataFolder, pool: endlessPool() })
    accepted ??= (await service.upload(await plainPhoto())).json<PhotoAccepted>()
    const state = async () => (await service.get('/api/readings')).json<ReadingList>().readings[0]?.state
    await expect.poll(state).toBe('reading')
    await service.app.close()
  }
  const service = await startService({ dataFolder })
  expect((await service.ended(accepted ?? { photoId: '', readingId: '' })).state).toBe('done')
})

it('gives up a photograph that ended the program three times', async () => {
  const dataFolder = scratchFolder()
  const before = await startService({ dataFolder, pool: endlessPool() })
  const accepted = (await before.upload(await plainPhoto())).json<PhotoAccepted>()
  await before.app.close()
  for (let i = 0; i < 3; i++) {
    // Taken up and never put back, as by a process that ended.
    const store = await openStore(dataFolder, await databaseOf(dataFolder))
    expect((await store.readings.take(accepted.readingId))?.readingId).toBe(accepted.readingId)
    await store.close()
  }
  const service = await startService({ dataFolder })
  expect(await service.ended(accepted)).toMatchObject({ state: 'failed', failure: { code: 'ended-the-program' } })
})

it.skipIf(onPostgres)('keeps a second process out of a data folder in use', async () => {
  const { dataFolder } = await startService()
  const child = runFile(endlessService, [dataFolder])
  expect((await child.ended)[0]).not.toBe(0)
  expect(child.errors()).toContain('in use by another Stepglass')
})
