import { DatabaseSync } from '@photostructure/sqlite'
import { existsSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import type { LadderEntry } from '../../server/api/ladders.js'
import type { ReadingReply } from '../../server/api/readings.js'
import { migrations } from '../../server/storage/migrations.js'
import { openStore } from '../../server/storage/store.js'
import { runFile } from './support/child.js'
import { folderOfVersion, photoId } from './support/earlier-versions.js'
import { databaseRows } from './support/database-rows.js'
import { madeUpReading } from './support/made-up-reading.js'
import { scratchFolder, startService } from './support/service.js'

const { design } = madeUpReading

/** A data folder as a version left it. */
function folderOf(version: number): string {
  const folder = scratchFolder()
  folderOfVersion(folder, version)
  return folder
}
const earlier = Array.from({ length: migrations.length - 1 }, (_, i) => i + 1)

it.each(earlier)('reads everything that version %i stored, and keeps the database as it was', async (version) => {
  const dataFolder = folderOf(version)
  const before = databaseRows(join(dataFolder, 'stepglass.sqlite'))
  const { get, app } = await startService({ dataFolder })
  const { started } = app.service.store
  const copy = `before-version-${migrations.length}.sqlite`
  expect(started).toMatchObject({ updatedFrom: version, copyBefore: copy, database: 'sound' })
  expect(databaseRows(join(dataFolder, copy))).toEqual(before)

  const done = (await get('/api/readings/r-done')).json<ReadingReply>()
  expect(done).toMatchObject({ state: 'done', photoName: 'bench.jpg', result: { design } })
  expect(done.leftOut).toHaveLength(version >= 3 ? 1 : 0)
  expect((await get('/api/readings/r-failed')).json()).toMatchObject({ state: 'failed', failure: { code: 'x' } })
  // Its file is missing here, which is said.
  await get('/api/readings/r-waiting/progress')
  expect((await get('/api/readings/r-waiting')).json()).toMatchObject({ failure: { code: 'photo-missing' } })
  const ladder = (await get(`/api/ladders/${design.ladderId}`)).json<LadderEntry>()
  expect(ladder).toMatchObject({ design, origin: version >= 3 ? 'card' : 'planned' })
  expect(ladder.latest).toMatchObject({ photoId })
  if (version >= 2) expect(ladder.labels).toEqual({ bottle: 'Shelf 2' })
  if (version >= 3) {
    expect((await get('/api/bottles/bottle-1')).json()).toMatchObject({ content: { name: 'Shelf 2' }, changes: 1 })
    expect((await get('/api/settings')).json()).toMatchObject({ total: 1 })
    expect((await get('/api/uploads/upload-of-a-phone-1')).json()).toMatchObject({ readingId: 'r-done' })
  }
  if (version >= 4) {
    expect((await get('/api/sheets/SHEET1/links')).json()).toMatchObject({ links: [{ views: 3 }] })
    expect((await get('/api/known-keys')).json()).toEqual({ keys: [{ publicKey: 'key', name: 'Canal works' }] })
  }
})

it('makes no copy of a new database, and none when there is nothing to update', async () => {
  const folder = scratchFolder()
  for (let i = 0; i < 2; i++) await (await openStore(folder)).close()
  expect(readdirSync(folder).filter((name) => name.startsWith('before'))).toEqual([])
})

it('leaves the database as it was when a step cannot be taken', async () => {
  const folder = folderOf(2)
  const file = join(folder, 'stepglass.sqlite')
  const db = new DatabaseSync(file)
  // In the way of version 4.
  db.exec('create table known_keys (a, b)')
  db.close()
  const before = databaseRows(file)
  await expect(openStore(folder)).rejects.toThrow('already exists')
  expect(databaseRows(file)).toEqual(before)
})

it('refuses what a newer version wrote, and leaves it alone', async () => {
  const folder = folderOf(migrations.length)
  const db = new DatabaseSync(join(folder, 'stepglass.sqlite'))
  db.exec(`pragma user_version = ${migrations.length + 1}`)
  db.close()
  await expect(openStore(folder)).rejects.toThrow('newer Stepglass')
})

it.each(earlier)(
  'brings version %i up to date after the process was killed in the midst of that',
  async (version) => {
    const folder = folderOf(version)
    const before = databaseRows(join(folder, 'stepglass.sqlite'))
    const child = runFile(new URL('./support/update-and-hang.ts', import.meta.url), [folder])
    await child.line(/^half way$/)
    child.process.kill('SIGKILL')
    await child.ended
    expect(databaseRows(join(folder, 'stepglass.sqlite'))).toEqual(before)
    // As if the copy had been under way, too.
    const copy = join(folder, `before-version-${migrations.length}.sqlite`)
    writeFileSync(`${copy}.part`, 'half a copy')
    const store = await openStore(folder)
    expect(store.started).toMatchObject({ updatedFrom: version, database: 'sound' })
    expect(await store.readings.summary('r-done')).toMatchObject({ state: 'done' })
    await store.close()
    expect(databaseRows(copy)).toEqual(before)
    expect(existsSync(`${copy}.part`)).toBe(false)
  },
  60_000,
)
