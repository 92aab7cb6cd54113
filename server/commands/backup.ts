import { makeBackup } from '../backup/make-backup.js'
import type { Manifest } from '../backup/manifest.js'
import { restoreBackup } from '../backup/restore-backup.js'
import { DATA_FOLDER } from '../paths.js'
import { storageTrouble } from '../storage/trouble.js'
import { UsageError } from '../usage-error.js'
import { counted, reasonText } from '../wording.js'
import { checkReadable, withPath } from './files.js'

const inWords = ({ photos, readings, missing, files }: Manifest) => {
  const bytes = Object.values(files).reduce((sum, file) => sum + file.bytes, 0)
  return `${counted(photos - missing.length, 'photograph')}, ${counted(readings, 'reading')}, ${(bytes / 1e6).toFixed(1)} MB`
}

/** Tells on standard error what was wrong with the data before. */
function warn({ missing, damaged }: Manifest): void {
  for (const name of missing) console.error(`photos/${name} is missing from the data folder: the backup is without it.`)
  for (const name of damaged) console.error(`photos/${name} is not as it came: it was damaged on the disk.`)
}

/**
 * Writes all of a data folder into one file.
 *
 * @throws {UsageError} with what to do
 */
export async function backup(file: string, dataFolder = DATA_FOLDER): Promise<void> {
  const manifest = await withPath(file, () => makeBackup(dataFolder, file)).catch((error: unknown) => {
    const trouble = storageTrouble(error)
    throw trouble ? new UsageError(reasonText(trouble.reply), { cause: error }) : error
  })
  warn(manifest)
  console.log(`${file}: ${inWords(manifest)}, each file with its checksum.`)
}

/** Puts a backup into an empty folder. */
export async function restore(file: string, folder = DATA_FOLDER): Promise<void> {
  await checkReadable(file)
  const manifest = await withPath(folder, () => restoreBackup(file, folder))
  warn(manifest)
  console.log(`${folder}: ${inWords(manifest)}, as they were on ${manifest.createdAt}, every file checked.`)
}
