import { createWriteStream } from 'node:fs'
import { mkdir, open, readdir, readFile, rename, rm, rmdir } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { Value } from 'typebox/value'
import { openPromise } from 'yauzl'
import { dataFiles } from '../storage/data-files.js'
import { migrations } from '../storage/migrations.js'
import { makeFolder, syncFolder } from '../storage/sync-folder.js'
import { UsageError } from '../usage-error.js'
import { checksum, DATABASE, MANIFEST, Manifest, SIGNING_KEY } from './manifest.js'
import { inspect } from './snapshot.js'

/** No other name may be in a backup, so that nothing is ever written elsewhere. */
const NAMES = new RegExp(`^(${DATABASE}|${SIGNING_KEY}|${MANIFEST}|photos/[0-9a-f]{64}\\.[a-z0-9]{1,8})$`)

const damaged = (what: string) =>
  new UsageError(`the backup cannot be used: ${what}. Take an older one, or copy this one again. Nothing was restored.`)

/**
 * Puts a backup into a folder, exactly as it was. The folder gets its database last, and what is not restored whole is
 * never taken for data.
 *
 * @throws {UsageError} if the folder holds something, or the backup is damaged or newer than this program
 */
export async function restoreBackup(file: string, folder: string): Promise<Manifest> {
  const to = dataFiles(folder)
  await makeFolder(folder)
  await clearUnfinished(folder)
  if ((await readdir(folder)).length > 0)
    throw new UsageError(`${folder}: this folder is not empty; nothing is overwritten. Choose another one.`)
  await mkdir(join(to.restoring, 'photos'), { recursive: true })
  await syncFolder(folder)
  try {
    const manifest = await unpack(file, to.restoring)
    await rename(join(to.restoring, 'photos'), to.photos)
    if (manifest.files[SIGNING_KEY]) await rename(join(to.restoring, SIGNING_KEY), to.signingKey)
    await rename(join(to.restoring, DATABASE), to.database)
    await rm(join(to.restoring, MANIFEST))
    await syncFolder(folder)
    await rmdir(to.restoring)
    await syncFolder(folder)
    return manifest
  } catch (error) {
    await clearUnfinished(folder)
    // What the system or we ourselves say has its own words; all else is the file's fault.
    if (error instanceof UsageError || (error instanceof Error && 'syscall' in error)) throw error
    throw damaged((error instanceof Error ? error.message : String(error)).replace(/\.+$/, ''))
  }
}

/** Removes what a restore left that did not come to its end: it began in an empty folder. */
async function clearUnfinished(folder: string): Promise<void> {
  const { restoring, database, photos, signingKey } = dataFiles(folder)
  if (!(await readdir(folder)).includes('restoring')) return
  for (const path of [database, photos, signingKey, restoring]) await rm(path, { recursive: true, force: true })
  await syncFolder(folder)
}

/** Unpacks and checks everything. */
async function unpack(file: string, folder: string): Promise<Manifest> {
  const sums: Manifest['files'] = {}
  const zip = await openPromise(file)
  for await (const entry of zip.eachEntry()) {
    const name = entry.fileName
    if (!NAMES.test(name) || name in sums) throw damaged(`${name} does not belong in it`)
    const target = createWriteStream(join(folder, name), { flags: 'wx', mode: 0o600 })
    await pipeline(
      await zip.openReadStreamPromise(entry),
      checksum((sum) => (sums[name] = sum)),
      target,
    )
    const written = await open(join(folder, name), 'r+')
    await written.sync().finally(() => written.close())
  }
  const { [MANIFEST]: _itself, ...found } = sums
  if (!_itself) throw damaged(`it has no ${MANIFEST}`)
  const manifest: unknown = JSON.parse(await readFile(join(folder, MANIFEST), 'utf8'))
  if (!Value.Check(Manifest, manifest)) throw damaged(`${MANIFEST} is not what this version writes`)
  for (const [name, { bytes, sha256 }] of Object.entries(manifest.files)) {
    if (!found[name]) throw damaged(`${name} is missing`)
    if (found[name].bytes !== bytes || found[name].sha256 !== sha256) throw damaged(`${name} was changed`)
  }
  const extra = Object.keys(found).find((name) => !manifest.files[name])
  if (extra !== undefined) throw damaged(`${extra} does not belong in it`)
  if (!found[DATABASE]) throw damaged('it has no database')
  if (manifest.databaseVersion > migrations.length)
    throw new UsageError('the backup was written by a newer Stepglass: restore it with that one')
  const { photos } = inspect(join(folder, DATABASE))
  const lost = photos.find((name) => !found[`photos/${name}`] && !manifest.missing.includes(name))
  if (lost !== undefined) throw damaged(`photos/${lost} is missing`)
  await syncFolder(join(folder, 'photos'))
  await syncFolder(folder)
  return manifest
}
