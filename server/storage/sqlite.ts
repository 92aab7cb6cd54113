import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite'
import { closeSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { Kysely, SqliteDialect, type SqliteDatabase } from 'kysely'
import { UsageError } from '../usage-error.js'
import { migrations } from './migrations.js'
import type { Database, Tables } from './tables.js'

interface Statement {
  all(...parameters: readonly unknown[]): unknown[]
  run(...parameters: readonly unknown[]): { changes: number; lastInsertRowid: number }
  iterate(...parameters: readonly unknown[]): IterableIterator<unknown>
  columns(): readonly unknown[]
}

/** Kysely's dialect speaks to better-sqlite3; this package has the interface of Node's own `node:sqlite`. */
const adapt = (raw: DatabaseSyncInstance): SqliteDatabase => ({
  close: () => {
    try {
      // A statement that is not yet collected keeps SQLite from doing this by itself.
      raw.exec('pragma wal_checkpoint(truncate)')
    } catch {
      // On a full or read-only disk the log stays, and the next start goes on from it.
    }
    raw.close()
  },
  prepare: (sql) => {
    // On a full or failing disk SQLite has rolled back by itself; Kysely would tell of that instead of the cause.
    const undone = sql === 'rollback' && !raw.isTransaction
    const statement = raw.prepare(undone ? 'select 1' : sql) as unknown as Statement
    return {
      reader: statement.columns().length > 0,
      all: (parameters) => statement.all(...parameters),
      run: (parameters) => statement.run(...parameters),
      iterate: (parameters) => statement.iterate(...parameters),
    }
  },
})

interface Update {
  /** Version the database had. */
  readonly from: number
  /** File with the database as it was. */
  readonly copy: string
}

/** Copies a database aside before anything is changed in it. */
function copyAside(raw: DatabaseSyncInstance, copy: string): void {
  const unfinished = `${copy}.part`
  rmSync(unfinished, { force: true })
  raw.prepare('vacuum into ?').run(unfinished)
  const written = openSync(unfinished, 'r+')
  fsyncSync(written)
  closeSync(written)
  renameSync(unfinished, copy)
}

/** Takes the steps that are missing: all of them or, if the process ends in between, none. */
function migrate(raw: DatabaseSyncInstance, folder: string): Update | undefined {
  const { user_version: from } = raw.prepare('pragma user_version').get() as { user_version: number }
  if (from > migrations.length)
    throw new UsageError('The data folder was written by a newer Stepglass. Start that one, or choose another folder.')
  if (from === migrations.length) return undefined
  const copy = join(folder, `before-version-${migrations.length}.sqlite`)
  if (from > 0) copyAside(raw, copy)
  raw.exec(`begin; ${migrations.slice(from).join(';')}; pragma user_version = ${migrations.length}; commit`)
  return from > 0 ? { from, copy } : undefined
}

export interface OpenedSqlite {
  readonly db: Database
  /** What was done to bring it to the newest version. */
  readonly updated: Update | undefined
  /** Looks at every page. @returns the first fault found */
  readonly firstFault: () => string | undefined
}

/**
 * Opens a database file, made when missing, and brings it to the newest version.
 *
 * @param options readOnly: nothing is changed in it after that
 */
export function openSqlite(file: string, { readOnly = false } = {}): OpenedSqlite {
  const raw = new DatabaseSync(file)
  try {
    // Full: what has been acknowledged is on the disk, not only in the system's memory. Another process may be
    // copying the database for a backup: then wait.
    raw.exec('pragma busy_timeout = 10000; pragma journal_mode = wal; pragma synchronous = full')
    raw.exec('pragma foreign_keys = on')
    const updated = migrate(raw, dirname(file))
    // A write that changes nothing tells now that nothing can be written: SQLite opens what it can only read, too.
    raw.exec(readOnly ? 'pragma query_only = on' : `pragma user_version = ${migrations.length}`)
    return {
      db: new Kysely<Tables>({ dialect: new SqliteDialect({ database: adapt(raw) }) }),
      updated,
      firstFault: () => {
        try {
          const found = raw.prepare('pragma quick_check(1)').get() as { quick_check: string }
          return found.quick_check === 'ok' ? undefined : found.quick_check
        } catch (error) {
          return String(error)
        }
      },
    }
  } catch (error) {
    raw.close()
    throw error
  }
}
