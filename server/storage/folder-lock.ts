import { DatabaseSync } from '@photostructure/sqlite'
import { UsageError } from '../usage-error.js'

/**
 * Keeps a second process out of a data folder: it would take up the readings this one has under way.
 * The lock is SQLite's on a file of its own, so the system lifts it however the process ends.
 *
 * @returns lifts the lock
 * @throws {UsageError} if another process holds it
 */
export function lockFolder(file: string): () => void {
  const lock = new DatabaseSync(file)
  try {
    lock.exec('begin exclusive')
  } catch (error) {
    lock.close()
    if (!(error as Error).message.includes('database is locked')) throw error
    throw new UsageError('The data folder is in use by another Stepglass. Stop that one, or choose another folder.', {
      cause: error,
    })
  }
  return () => lock.close()
}
