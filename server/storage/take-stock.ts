import { basename } from 'node:path'
import type { StartReport } from '../api/start-report.js'
import type { dataFiles } from './data-files.js'
import type { OpenedDatabase } from './open-database.js'
import type { ReadingRecords } from './reading-records.js'
import { makeFolder } from './sync-folder.js'
import { missingPhotos, tidyFolder } from './tidy-folder.js'
import { storageTrouble, type Trouble } from './trouble.js'

/** What there is to do after an ordinary end. */
export const NOTHING = { takenUpAgain: 0, givenUp: 0, cutOffRemoved: 0, setAside: 0, putBack: 0, unfinishedRemoved: 0 }

/**
 * Puts right what a process left that ended in the middle of something. On a disk that cannot be written to it only
 * looks.
 */
export async function takeStock(
  { db, soundness, updated, trouble }: OpenedDatabase,
  readings: ReadingRecords,
  paths: ReturnType<typeof dataFiles>,
  folder: string,
): Promise<StartReport> {
  const photos = await db.selectFrom('photos').select(['photo_id', 'extension']).execute()
  const onRecord = new Set(photos.map((photo) => `${photo.photo_id}.${photo.extension}`))
  const look = async ({ reply }: Trouble): Promise<StartReport> => ({
    ...NOTHING,
    missing: await missingPhotos(paths.photos, onRecord),
    database: soundness,
    trouble: reply,
  })
  if (trouble) return look(trouble)
  try {
    await makeFolder(paths.photos)
    return {
      ...(updated && { updatedFrom: updated.from, copyBefore: basename(updated.copy) }),
      ...(await readings.recover()),
      ...(await tidyFolder(paths, folder, onRecord)),
      database: soundness,
    }
  } catch (error) {
    const found = storageTrouble(error)
    if (found) return look(found)
    throw error
  }
}
