import { mkdir, readdir, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { StartReport } from '../api/start-report.js'
import type { dataFiles } from './data-files.js'
import { syncFolder } from './sync-folder.js'

/** A backup that is being written into the same folder is not ours to remove. */
const OWN_PART = /^(signing-key|before-version)\b.*\.part$/

const namesIn = (folder: string): Promise<string[]> =>
  readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return []
    throw error
  })

/** The files of photographs on record that are gone. */
export async function missingPhotos(photos: string, onRecord: ReadonlySet<string>): Promise<string[]> {
  const there = new Set(await namesIn(photos))
  return [...onRecord].filter((name) => !there.has(name))
}

/**
 * Brings the files of a data folder in line with its records, as after a process that ended in the middle of anything.
 * Nothing that may be a photograph is deleted.
 *
 * @param onRecord names of the files that must be in `photos`
 */
export async function tidyFolder(
  { photos, unclaimed, incoming, previews }: ReturnType<typeof dataFiles>,
  dataFolder: string,
  onRecord: ReadonlySet<string>,
): Promise<Pick<StartReport, 'cutOffRemoved' | 'setAside' | 'putBack' | 'unfinishedRemoved' | 'missing'>> {
  // What lies here was being received when the process ended, and nobody was told that it arrived.
  const cutOff = await namesIn(incoming)
  await rm(incoming, { recursive: true, force: true })

  async function move(names: readonly string[], from: string, to: string): Promise<void> {
    if (names.length === 0) return
    await mkdir(to, { recursive: true })
    for (const name of names) await rename(join(from, name), join(to, name))
    await syncFolder(to)
    await syncFolder(from)
  }
  const strays = (await namesIn(photos)).filter((name) => !onRecord.has(name))
  await move(strays, photos, unclaimed)
  const lost = new Set(await missingPhotos(photos, onRecord))
  const found = (await namesIn(unclaimed)).filter((name) => lost.has(name))
  await move(found, unclaimed, photos)

  const halfMade = [
    ...(await namesIn(previews)).filter((name) => name.endsWith('.part')).map((name) => join(previews, name)),
    ...(await namesIn(dataFolder)).filter((name) => OWN_PART.test(name)).map((name) => join(dataFolder, name)),
  ]
  for (const path of halfMade) await rm(path)
  return {
    cutOffRemoved: cutOff.length,
    setAside: strays.length,
    putBack: found.length,
    unfinishedRemoved: halfMade.length,
    missing: await missingPhotos(photos, onRecord),
  }
}
