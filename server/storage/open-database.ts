import { accessSync, constants, copyFileSync, existsSync, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { StartReport } from '../api/start-report.js'
import { UsageError } from '../usage-error.js'
import { reasonText } from '../wording.js'
import type { dataFiles } from './data-files.js'
import { lockFolder } from './folder-lock.js'
import { openSqlite, type OpenedSqlite } from './sqlite.js'
import { DAMAGED, storageTrouble, type Trouble } from './trouble.js'

/** Larger ones take longer to check than one may wait for a start; each backup checks them. */
const MAX_CHECKED_BYTES = 100e6

export interface OpenedDatabase extends OpenedSqlite {
  readonly soundness: StartReport['database']
  /** Why it can only be read. */
  readonly trouble?: Trouble
  readonly close: () => Promise<void>
}

/** Looks at every page. */
function soundnessOf({ firstFault }: OpenedSqlite, file: string): StartReport['database'] {
  if (statSync(file).size > MAX_CHECKED_BYTES) return 'not-checked'
  return firstFault() === undefined ? 'sound' : 'damaged'
}

/** Opens the database of a data folder for this process alone. */
function openForWriting({ database, lock }: ReturnType<typeof dataFiles>): OpenedDatabase {
  // SQLite would only say that it cannot open something.
  accessSync(dirname(database), constants.W_OK)
  const unlock = lockFolder(lock)
  try {
    const opened = openSqlite(database)
    return {
      ...opened,
      soundness: soundnessOf(opened, database),
      close: async () => {
        await opened.db.destroy()
        unlock()
      },
    }
  } catch (error) {
    unlock()
    throw error
  }
}

/** Opens a copy elsewhere, since SQLite writes beside a database even when it only reads it. */
function openForReading({ database }: ReturnType<typeof dataFiles>, trouble: Trouble): OpenedDatabase {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-'))
  const copy = join(folder, 'copy.sqlite')
  try {
    for (const end of ['', '-wal']) if (existsSync(database + end)) copyFileSync(database + end, copy + end)
    const opened = openSqlite(copy, { readOnly: true })
    return {
      ...opened,
      soundness: soundnessOf(opened, copy),
      trouble,
      close: async () => {
        await opened.db.destroy()
        rmSync(folder, { recursive: true })
      },
    }
  } catch (error) {
    rmSync(folder, { recursive: true })
    throw error
  }
}

/**
 * Opens the database of a data folder. On a disk that is full or read-only what is stored can still be looked at.
 *
 * @throws {UsageError} if another process has it open, a newer version wrote it, or it cannot be used at all
 */
export function openDatabase(files: ReturnType<typeof dataFiles>): OpenedDatabase {
  const tell = (trouble: Trouble, cause: unknown) => new UsageError(reasonText(trouble.reply), { cause })
  try {
    return openForWriting(files)
  } catch (error) {
    const trouble = storageTrouble(error)
    if (!trouble) throw error
    if (trouble === DAMAGED || !existsSync(files.database)) throw tell(trouble, error)
    try {
      return openForReading(files, trouble)
    } catch (second) {
      throw tell(trouble, second)
    }
  }
}
