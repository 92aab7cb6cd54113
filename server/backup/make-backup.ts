import { createReadStream, createWriteStream, existsSync } from 'node:fs'
import { open, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { ZipFile } from 'yazl'
import { dataFiles } from '../storage/data-files.js'
import { syncFolder } from '../storage/sync-folder.js'
import { UsageError } from '../usage-error.js'
import { checksum, DATABASE, MANIFEST, SIGNING_KEY, type Manifest } from './manifest.js'
import { removeDatabase, takeSnapshot, type Snapshot } from './snapshot.js'

const isThere = (path: string) =>
  stat(path).then(
    () => true,
    () => false,
  )

/**
 * Writes all of a data folder into one zip, as it is at one moment; the service may be running. The file is there whole
 * or not at all.
 *
 * @throws {UsageError} if the folder holds no data, the database is damaged, or the file is there already
 */
export async function makeBackup(dataFolder: string, file: string): Promise<Manifest> {
  const from = dataFiles(dataFolder)
  if (!existsSync(from.database)) throw new UsageError(`${dataFolder}: there is no data of Stepglass in this folder`)
  if (existsSync(file)) throw new UsageError(`${file}: there is such a file already; choose another name`)
  const copy = `${file}.sqlite.part`
  const unfinished = `${file}.part`
  try {
    const manifest = await writeZip(from, copy, await takeSnapshot(from.database, copy), unfinished)
    const written = await open(unfinished, 'r+')
    await written.sync().finally(() => written.close())
    await rename(unfinished, file)
    await syncFolder(dirname(resolve(file)))
    return manifest
  } finally {
    await removeDatabase(copy)
    await rm(unfinished, { force: true })
  }
}

async function writeZip(
  from: ReturnType<typeof dataFiles>,
  copy: string,
  { databaseVersion, photos, readings }: Snapshot,
  target: string,
): Promise<Manifest> {
  const there = new Map<string, boolean>()
  for (const name of photos) there.set(name, await isThere(join(from.photos, name)))
  const manifest: Manifest = {
    schema: 'stepglass-backup-1',
    createdAt: new Date().toISOString(),
    databaseVersion,
    photos: photos.length,
    readings,
    files: {},
    missing: photos.filter((name) => !there.get(name)),
    damaged: [],
  }
  const zip = new ZipFile()
  const add = (name: string, path: string, compress: boolean) =>
    // Opened when its turn comes: there may be more files than may be open at once.
    zip.addReadStreamLazy(name, { compress, mode: 0o600 }, (give) => {
      const summed = checksum((sum) => {
        manifest.files[name] = sum
        const photoId = /^photos\/(\w+)/.exec(name)?.[1]
        if (photoId !== undefined && photoId !== sum.sha256) manifest.damaged.push(basename(name))
      })
      give(
        null,
        createReadStream(path)
          .once('error', (error) => summed.destroy(error))
          .pipe(summed),
      )
    })
  add(DATABASE, copy, true)
  if (await isThere(from.signingKey)) add(SIGNING_KEY, from.signingKey, false)
  for (const name of photos) if (there.get(name)) add(`photos/${name}`, join(from.photos, name), false)
  // Last, when all sums are known.
  zip.addReadStreamLazy(MANIFEST, { compress: true, mode: 0o600 }, (give) =>
    give(null, Readable.from([JSON.stringify(manifest, undefined, 1)])),
  )
  zip.end()
  const failed = new Promise<never>((_resolve, reject) => zip.once('error', reject))
  // The signing key is in it: for its owner only.
  await Promise.race([pipeline(zip.outputStream, createWriteStream(target, { mode: 0o600 })), failed])
  return manifest
}
