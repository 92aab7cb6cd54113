import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { strFromU8, unzipSync, zipSync } from 'fflate'
import { expect, it, vi } from 'vitest'
import type { PhotoAccepted } from '../../server/api/readings.js'
import { makeBackup } from '../../server/backup/make-backup.js'
import { restoreBackup } from '../../server/backup/restore-backup.js'
import { backup as backupCommand, restore as restoreCommand } from '../../server/commands/backup.js'
import { openStore } from '../../server/storage/store.js'
import { fullSheet } from './sheets/sheets.js'
import { damagePages, databaseRows, fileSums } from './support/database-rows.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

/** A service with something in every table, and a signing key. */
async function filled() {
  const service = await startService()
  const headers = { host: 'localhost' }
  const { recordId } = (await service.post('/api/bottles', { name: 'Shelf 2' })).json<{ recordId: string }>()
  const url = `/api/bottles/${recordId}`
  await service.app.inject({ method: 'PATCH', url, headers, payload: { content: { name: 'Shelf 3' } } })
  const fields = { uploadId: 'upload-of-a-phone-1' }
  const accepted = (await service.upload(await plainPhoto(), fields)).json<PhotoAccepted>()
  await service.ended(accepted)
  const leaveOut = `/api/photos/${accepted.photoId}/left-out/1`
  await service.app.inject({ method: 'PUT', url: leaveOut, headers, payload: { reason: 'scratched' } })
  const form = new FormData()
  form.set('sheet', new Blob([JSON.stringify(fullSheet)]), 'sheet.json')
  await service.post('/api/settings/take-in', form)
  await service.post(`/api/sheets/${fullSheet.sheetId}/links`, { days: 3 })
  const { publicKey } = (await service.get('/api/signing-key')).json<{ publicKey: string }>()
  await service.post('/api/known-keys', { publicKey, name: 'Canal works' })
  return { service, accepted }
}

const databaseOf = (folder: string) => join(folder, 'stepglass.sqlite')
const contentsOf = (folder: string) => ({
  rows: databaseRows(databaseOf(folder)),
  photos: fileSums(join(folder, 'photos')),
  key: readFileSync(join(folder, 'signing-key.pem'), 'utf8'),
})

it('brings back every row, every photograph and the signing key, exactly, while the service runs on', async () => {
  const { service, accepted } = await filled()
  const scratch = scratchFolder()
  const file = join(scratch, 'all.zip')
  const before = contentsOf(service.dataFolder)
  for (const table of [
    'records',
    'record_versions',
    'photos',
    'readings',
    'uploads',
    'left_out',
    'sheets',
    'links',
    'known_keys',
  ])
    expect(before.rows[table], table).not.toEqual([])

  const manifest = await makeBackup(service.dataFolder, file)
  expect(manifest).toMatchObject({ photos: 1, readings: 1, missing: [], damaged: [] })
  expect(readdirSync(scratch)).toEqual(['all.zip'])
  // Nobody else is to have the signing key.
  expect(statSync(file).mode & 0o077).toBe(0)
  await service.upload(await plainPhoto('#123456'))

  const folder = join(scratch, 'restored')
  expect(await restoreBackup(file, folder)).toEqual(manifest)
  expect(contentsOf(folder)).toEqual(before)
  expect(readdirSync(folder).sort()).toEqual(['photos', 'signing-key.pem', 'stepglass.sqlite'])
  const restored = await startService({ dataFolder: folder })
  const address = `/api/readings/${accepted.readingId}`
  expect((await restored.get(address)).body).toBe((await service.get(address)).body)
  expect((await restored.get('/api/signing-key')).body).toBe((await service.get('/api/signing-key')).body)
  expect((await restored.get(`/api/photos/${accepted.photoId}/image?width=50`)).statusCode).toBe(200)
})

it('is one moment of a service that is written to all the while: each photograph with its reading', async () => {
  const service = await startService()
  const photos = await Promise.all(Array.from({ length: 12 }, (_, i) => plainPhoto(`#0000${(16 + i).toString(16)}`)))
  await service.upload(photos[0])
  const uploads = (async () => {
    for (const photo of photos) {
      await service.upload(photo)
      await service.post('/api/resins', { name: 'another' })
    }
  })()
  const scratch = scratchFolder()
  for (let i = 0; i < 3; i++) {
    const file = join(scratch, `${i}.zip`)
    await makeBackup(service.dataFolder, file)
    await restoreBackup(file, join(scratch, String(i)))
    const rows = databaseRows(databaseOf(join(scratch, String(i)))) as Record<string, { photo_id: string }[]>
    const names = (rows['photos'] ?? []).map(({ photo_id: id }) => `${id}.png`).sort()
    expect(readdirSync(join(scratch, String(i), 'photos')).sort()).toEqual(names)
    expect((rows['readings'] ?? []).length).toBe(names.length)
  }
  await uploads
})

async function backedUp() {
  const { service } = await filled()
  const scratch = scratchFolder()
  const file = join(scratch, 'all.zip')
  await makeBackup(service.dataFolder, file)
  return { scratch, file, files: unzipSync(readFileSync(file)) }
}

it('overwrites nothing: no folder that holds something, and no file that is there', async () => {
  const { scratch, file } = await backedUp()
  const folder = join(scratch, 'used')
  mkdirSync(folder)
  writeFileSync(join(folder, 'note.txt'), 'mine')
  await expect(restoreBackup(file, folder)).rejects.toThrow('not empty')
  expect(readdirSync(folder)).toEqual(['note.txt'])
  const before = readFileSync(file)
  const other = await startService()
  await expect(makeBackup(other.dataFolder, file)).rejects.toThrow('choose another name')
  expect(readFileSync(file).equals(before)).toBe(true)
  await expect(makeBackup(scratch, join(scratch, 'b.zip'))).rejects.toThrow('no data of Stepglass')
})

it('tells of a damaged backup, and leaves the folder empty', async () => {
  const { scratch, file, files } = await backedUp()
  const whole = readFileSync(file)
  const [photo = ''] = Object.keys(files).filter((name) => name.startsWith('photos/'))
  const without = ({ [photo]: _photo, ...rest }: typeof files) => rest
  const manifest = JSON.parse(strFromU8(files['manifest.json']!)) as { databaseVersion: number }
  const newer = Buffer.from(JSON.stringify({ ...manifest, databaseVersion: manifest.databaseVersion + 1 }))
  const flipped = Buffer.from(whole)
  flipped[Math.floor(whole.length / 2)]! ^= 1
  const cases: readonly (readonly [Uint8Array, RegExp])[] = [
    [whole.subarray(0, whole.length / 2), /cannot be used/],
    [Buffer.from('no zip at all'), /cannot be used/],
    [flipped, /cannot be used/],
    [zipSync({ ...files, [photo]: Buffer.from('forged') }), /photos.* was changed/],
    [zipSync(without(files)), /photos.* is missing/],
    [zipSync({ ...files, 'photos/../../out.txt': Buffer.from('x') }), /cannot be used/],
    [zipSync({ ...files, 'extra.txt': Buffer.from('x') }), /extra.txt does not belong/],
    [zipSync({ ...files, 'manifest.json': newer }), /newer Stepglass/],
    [zipSync({ 'stepglass.sqlite': Buffer.from('x') }), /no manifest.json/],
  ]
  for (const [i, [bytes, message]] of cases.entries()) {
    const damaged = join(scratch, `${i}.zip`)
    writeFileSync(damaged, bytes)
    const folder = join(scratch, `into-${i}`)
    await expect(restoreBackup(damaged, folder)).rejects.toThrow(message)
    expect(readdirSync(folder)).toEqual([])
  }
  expect(existsSync(join(scratch, 'out.txt'))).toBe(false)
})

it('refuses to start on a backup that was not restored to its end, and restores it anew', async () => {
  const { scratch, file } = await backedUp()
  const folder = join(scratch, 'restored')
  await restoreBackup(file, folder)
  // What a process leaves that ended when everything but the database was in place.
  mkdirSync(join(folder, 'restoring'))
  rmSync(databaseOf(folder))
  await expect(openStore(folder)).rejects.toThrow('not restored to its end')
  await restoreBackup(file, folder)
  await (await openStore(folder)).close()
})

it('goes on without photographs that are gone, names damaged ones, and says so', async () => {
  const { service, accepted } = await filled()
  const other = (await service.upload(await plainPhoto('#333333'))).json<PhotoAccepted>()
  const photo = (id: string) => join(service.dataFolder, 'photos', `${id}.png`)
  truncateSync(photo(accepted.photoId), 50)
  rmSync(photo(other.photoId))
  const scratch = scratchFolder()
  const [said, warned] = [vi.spyOn(console, 'log'), vi.spyOn(console, 'error')].map((spy) => {
    const lines: string[] = []
    spy.mockImplementation((line: string) => void lines.push(line))
    return lines
  })
  await backupCommand(join(scratch, 'a.zip'), service.dataFolder)
  await restoreCommand(join(scratch, 'a.zip'), join(scratch, 'to'))
  vi.restoreAllMocks()
  expect(said?.join('\n')).toMatch(/a\.zip: 1 photograph, 2 readings, .*checksum[^]*every file checked/)
  expect(warned?.filter((line) => line.includes(`${other.photoId}.png is missing`))).toHaveLength(2)
  expect(warned?.filter((line) => line.includes(`${accepted.photoId}.png is not as it came`))).toHaveLength(2)
})

it('makes no backup of a damaged database', async () => {
  const { service } = await filled()
  await service.app.close()
  damagePages(databaseOf(service.dataFolder))
  const scratch = scratchFolder()
  await expect(backupCommand(join(scratch, 'a.zip'), service.dataFolder)).rejects.toThrow(/damaged/)
  expect(readdirSync(scratch)).toEqual([])
})
