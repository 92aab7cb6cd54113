import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { sql } from 'kysely'
import sharp from 'sharp'
import { expect, it, onTestFinished } from 'vitest'
import type { ErrorReply } from '../../server/api/common.js'
import type { Health } from '../../server/api/health.js'
import type { PhotoAccepted, ReadingReply } from '../../server/api/readings.js'
import { pictureMaker } from '../../server/pictures/pictures.js'
import { openStore } from '../../server/storage/store.js'
import { damagePages } from './support/database-rows.js'
import { madeUpReading } from './support/made-up-reading.js'
import { poolOf } from './support/pools.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

type Service = Awaited<ReturnType<typeof startService>>

const mount = (...args: readonly string[]) => spawnSync('mount', args).status === 0
const unmount = (folder: string) => spawnSync('umount', ['--lazy', folder])

/** A file system of its own of so many megabytes, where this process may make one. */
function smallDisk(megabytes: number): string {
  const folder = scratchFolder()
  expect(mount('-t', 'tmpfs', '-o', `size=${megabytes}m`, 'stepglass-test', folder)).toBe(true)
  onTestFinished(() => void unmount(folder))
  return folder
}
const maySetUpDisks =
  process.platform === 'linux' && process.getuid?.() === 0 && spawnSync('unshare', ['--mount', 'true']).status === 0
const withDisks = it.runIf(maySetUpDisks)

/** The same data where this process has nothing open: SQLite would go on with what it has in memory. */
function onAnotherDisk(dataFolder: string): string {
  const folder = smallDisk(8)
  for (const name of ['stepglass.sqlite', 'photos'])
    cpSync(join(dataFolder, name), join(folder, name), { recursive: true })
  return folder
}

const health = async ({ get }: Service) => (await get('/api/health')).json<Health>()

/** Writes until nothing more goes onto the disk. */
function fill(folder: string): string {
  const file = join(folder, 'fill')
  spawnSync('dd', ['if=/dev/zero', `of=${file}`, 'bs=4k'])
  return file
}

/** Twice as large as it would have to be, as a phone's are. */
const largePhoto = () =>
  sharp({
    create: {
      width: 1200,
      height: 900,
      channels: 3,
      noise: { type: 'gaussian', mean: 128, sigma: 40 },
      background: '#000',
    },
  })
    .png()
    .toBuffer()

async function expectReadable({ get }: Service, { readingId, photoId }: PhotoAccepted): Promise<void> {
  expect((await get(`/api/readings/${readingId}`)).json()).toMatchObject({ state: 'done' })
  expect((await get('/api/readings')).json()).toMatchObject({ total: 1 })
  expect((await get(`/api/ladders/${madeUpReading.design.ladderId}`)).statusCode).toBe(200)
  expect((await get(`/api/photos/${photoId}/image?width=50`)).statusCode).toBe(200)
  expect((await get('/api/now')).statusCode).toBe(200)
}

withDisks('refuses uploads on a full disk, shows what is stored, and goes on when there is room', async () => {
  const dataFolder = smallDisk(8)
  const service = await startService({ dataFolder })
  const accepted = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  await service.ended(accepted)
  const filling = fill(dataFolder)
  const photo = await largePhoto()
  const refused = await service.upload(photo)
  expect([refused.statusCode, refused.json()]).toMatchObject([507, { code: 'disk-full' }])
  expect(refused.json<ErrorReply>().advice).toContain('Nothing that was acknowledged is lost')
  expect(await service.storedFiles()).toEqual([`${accepted.photoId}.png`])
  expect(await health(service)).toMatchObject({ status: 'impaired', trouble: { code: 'disk-full' } })
  await expectReadable(service, accepted)

  rmSync(filling)
  expect((await service.upload(photo)).statusCode).toBe(202)
  expect(await health(service)).toMatchObject({ status: 'ok' })
})

withDisks('starts on a full disk to show what is stored', async () => {
  const dataFolder = smallDisk(8)
  const before = await startService({ dataFolder })
  const accepted = (await before.upload(await plainPhoto())).json<PhotoAccepted>()
  await before.ended(accepted)
  await before.app.close()
  const folder = onAnotherDisk(dataFolder)
  fill(folder)
  const service = await startService({ dataFolder: folder })
  expect(await health(service)).toMatchObject({ status: 'impaired', trouble: { code: 'disk-full' } })
  await expectReadable(service, accepted)
  expect((await service.post('/api/resins', { name: 'x' })).statusCode).toBeGreaterThanOrEqual(500)
})

withDisks('starts in a read-only folder to show what is stored, and says what to do', async () => {
  const dataFolder = smallDisk(8)
  const before = await startService({ dataFolder })
  const accepted = (await before.upload(await plainPhoto())).json<PhotoAccepted>()
  await before.ended(accepted)
  await before.app.close()
  const folder = onAnotherDisk(dataFolder)
  expect(mount('-o', 'remount,ro', folder)).toBe(true)

  const service = await startService({ dataFolder: folder })
  expect(await health(service)).toMatchObject({ status: 'impaired', trouble: { code: 'data-read-only' } })
  expect((await health(service)).startedInWords.join()).toContain('cannot be written to')
  await expectReadable(service, accepted)
  for (const reply of [
    await service.upload(await plainPhoto('#111')),
    await service.post('/api/resins', { name: 'x' }),
  ])
    expect([reply.statusCode, reply.json()]).toMatchObject([503, { code: 'data-read-only' }])
})

it('keeps a result while the database has no room for it, and writes it down when there is', async () => {
  const service = await startService({
    pool: poolOf(async () => {
      // As if the disk had filled up while the photograph was read.
      const [{ page_count: pages } = { page_count: 0 }] = (
        await sql<{ page_count: number }>`pragma page_count`.execute(db)
      ).rows
      await sql.raw(`pragma max_page_count = ${pages}`).execute(db)
      return { ...madeUpReading, warnings: [{ code: 'long', advice: 'x'.repeat(100_000) }] }
    }),
  })
  const { db } = service.app.service.store
  const { readingId } = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  const full = () => service.post('/api/resins', { name: 'x', note: 'x'.repeat(400) })
  await expect.poll(async () => (await full()).statusCode, { timeout: 10_000 }).toBe(507)
  expect((await service.get(`/api/readings/${readingId}`)).json()).toMatchObject({ state: 'reading' })
  await sql`pragma max_page_count = 100000`.execute(db)
  await service.get(`/api/readings/${readingId}/progress`)
  expect((await service.get(`/api/readings/${readingId}`)).json()).toMatchObject({ state: 'done' })
})

it('says that a part of the database is damaged, and serves the rest', async () => {
  const dataFolder = scratchFolder()
  const before = await startService({ dataFolder })
  const accepted = (await before.upload(await plainPhoto())).json<PhotoAccepted>()
  await before.ended(accepted)
  for (let i = 0; i < 40; i++) await before.post('/api/resins', { name: `resin ${i}`, note: 'x'.repeat(300) })
  await before.app.close()
  damagePages(join(dataFolder, 'stepglass.sqlite'), 'records')

  // As after a restart: what this process has open it would read from memory.
  const folder = scratchFolder()
  cpSync(dataFolder, folder, { recursive: true })
  const service = await startService({ dataFolder: folder })
  expect(await health(service)).toMatchObject({ status: 'impaired', trouble: { code: 'database-damaged' } })
  expect((await health(service)).startedInWords.join()).toContain('Restore the last backup')
  const reply = await service.get('/api/resins')
  expect([reply.statusCode, reply.json()]).toMatchObject([500, { code: 'database-damaged' }])
  expect((await service.get('/api/readings')).json()).toMatchObject({ total: 1 })
  expect((await service.get(`/api/readings/${accepted.readingId}`)).json<ReadingReply>().state).toBe('done')
})

it('ends with what to do when the database is none', async () => {
  const folder = scratchFolder()
  writeFileSync(join(folder, 'stepglass.sqlite'), 'no database at all, and long enough to be taken for one'.repeat(100))
  await expect(openStore(folder)).rejects.toThrow('stepglass restore FILE --into FOLDER')
})

it('names photographs whose file is gone, keeps their readings, and takes the file again', async () => {
  const dataFolder = scratchFolder()
  const before = await startService({ dataFolder })
  const photo = await plainPhoto()
  const accepted = (await before.upload(photo)).json<PhotoAccepted>()
  await before.ended(accepted)
  const other = (await before.upload(await plainPhoto('#222'))).json<PhotoAccepted>()
  await before.ended(other)
  await before.app.close()
  const name = `${accepted.photoId}.png`
  rmSync(join(dataFolder, 'photos', name))

  const service = await startService({ dataFolder })
  expect((await health(service)).started.missing).toEqual([name])
  expect((await health(service)).startedInWords.join()).toContain('Missing in photos/: 1 photograph.')
  const image = () => service.get(`/api/photos/${accepted.photoId}/image?width=50`)
  expect((await image()).json()).toMatchObject({ code: 'photo-missing' })
  expect((await service.get(`/api/readings/${accepted.readingId}`)).json()).toMatchObject({ state: 'done' })
  await service.post(`/api/readings/${accepted.readingId}/again`)
  expect((await service.ended(accepted)).failure).toMatchObject({ code: 'photo-missing' })
  // The other one goes out to another machine all the same.
  expect((await service.get('/api/archive.zip')).rawPayload.includes(`photos/${other.photoId}`)).toBe(true)

  await service.upload(photo)
  expect(await service.ended(accepted)).toMatchObject({ state: 'done' })
  expect((await image()).statusCode).toBe(200)
})

it('sets aside files that no record names, and takes them back when one does', async () => {
  const dataFolder = scratchFolder()
  const before = await startService({ dataFolder })
  const accepted = (await before.upload(await plainPhoto())).json<PhotoAccepted>()
  await before.ended(accepted)
  await before.app.close()
  const [photos, unclaimed] = [join(dataFolder, 'photos'), join(dataFolder, 'unclaimed')]
  writeFileSync(join(photos, 'stray.jpg'), 'kept, and not recorded before the process ended')
  mkdirSync(unclaimed)
  renameSync(join(photos, `${accepted.photoId}.png`), join(unclaimed, `${accepted.photoId}.png`))
  mkdirSync(join(dataFolder, 'incoming'), { recursive: true })
  writeFileSync(join(dataFolder, 'incoming', 'half'), 'half a photograph')
  mkdirSync(join(dataFolder, 'previews'))
  writeFileSync(join(dataFolder, 'previews', 'a.part'), 'half a preview')

  const service = await startService({ dataFolder })
  expect(service.app.service.store.started).toMatchObject({
    setAside: 1,
    putBack: 1,
    cutOffRemoved: 1,
    unfinishedRemoved: 1,
  })
  expect(readdirSync(unclaimed)).toEqual(['stray.jpg'])
  expect(await service.storedFiles()).toEqual([`${accepted.photoId}.png`])
  expect((await health(service)).startedInWords).toHaveLength(4)
})

// Debian's libheif-examples has it; no package of ours writes HEIC.
const canEncodeHeic = /x265/.test(spawnSync('heif-enc', ['--list-encoders'], { encoding: 'utf8' }).stdout ?? '')
it.runIf(canEncodeHeic)('makes a preview anew that is missing or damaged', async () => {
  const folder = scratchFolder()
  const [png, heic] = [join(folder, 'in.png'), join(folder, 'in.heic')]
  writeFileSync(png, await plainPhoto())
  spawnSync('heif-enc', [png, '-o', heic])
  const previews = join(folder, 'previews')
  const pictures = pictureMaker(
    previews,
    poolOf(() => Promise.reject(new Error('reads nothing'))),
  )
  const show = async () => (await sharp(await pictures.jpeg(heic, 'id', 60)).metadata()).width
  expect(await show()).toBe(60)
  const whole = readFileSync(join(previews, 'id.jpg'))
  truncateSync(join(previews, 'id.jpg'), 200)
  expect(await show()).toBe(60)
  expect(readFileSync(join(previews, 'id.jpg')).equals(whole)).toBe(true)
  rmSync(previews, { recursive: true })
  expect(await show()).toBe(60)
  // Where it cannot be kept it is shown all the same.
  rmSync(previews, { recursive: true })
  writeFileSync(previews, 'in the way')
  expect(await show()).toBe(60)
})
