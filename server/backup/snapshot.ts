import { backup, DatabaseSync } from '@photostructure/sqlite'
import { rm } from 'node:fs/promises'
import { UsageError } from '../usage-error.js'

export interface Snapshot {
  readonly databaseVersion: number
  /** Names of the files in `photos/`. */
  readonly photos: readonly string[]
  readonly readings: number
}

/** All pages in one step: in steps it would begin anew whenever the service writes. */
const AT_ONCE = { rate: -1 }

/** A database may leave these beside it. */
export const removeDatabase = (file: string) =>
  Promise.all(['', '-wal', '-shm', '-journal'].map((end) => rm(file + end, { force: true })))

/**
 * Copies the database as it is at one moment, while the service may go on writing, and checks the copy.
 *
 * @throws {UsageError} if the database is damaged
 */
export async function takeSnapshot(database: string, copy: string): Promise<Snapshot> {
  await removeDatabase(copy)
  const source = new DatabaseSync(database, { readOnly: true })
  try {
    source.exec('pragma busy_timeout = 10000')
    await backup(source, copy, AT_ONCE)
  } finally {
    source.close()
  }
  return inspect(copy)
}

/** What a database that nobody else has open holds, once its every page was checked. */
export function inspect(file: string): Snapshot {
  const db = new DatabaseSync(file)
  try {
    // One file, with nothing beside it.
    db.exec('pragma journal_mode = delete')
    const [first] = db.prepare('pragma integrity_check').all() as { integrity_check: string }[]
    if (first?.integrity_check !== 'ok') throw new UsageError(`the database is damaged: ${first?.integrity_check}`)
    const one = (sql: string) => Object.values(db.prepare(sql).get() as Record<string, number>)[0] ?? 0
    const photos = db.prepare('select photo_id, extension from photos order by created_at, photo_id').all() as {
      photo_id: string
      extension: string
    }[]
    return {
      databaseVersion: one('pragma user_version'),
      photos: photos.map(({ photo_id: photoId, extension }) => `${photoId}.${extension}`),
      readings: one('select count(*) from readings'),
    }
  } finally {
    db.close()
  }
}
