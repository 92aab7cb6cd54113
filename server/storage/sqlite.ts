import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite'
import { Kysely, SqliteDialect, type Generated, type GeneratedAlways, type SqliteDatabase } from 'kysely'
import type { StoredReadingState } from '../api/readings.js'
import type { RecordKind } from '../api/records.js'
import { UsageError } from '../usage-error.js'
import { migrations } from './migrations.js'

/** Rows as they lie in the file; texts of more than one word (design, labels, facts, options, content, …) are JSON. */
export interface Tables {
  ladders: {
    ladder_id: string
    design: string
    created_at: string
    labels: Generated<string>
    facts: Generated<string>
    origin: Generated<'planned' | 'card'>
    archived_at: string | null
  }
  photos: {
    photo_id: string
    extension: string
    name: string
    bytes: number
    simulated: number
    created_at: string
  }
  readings: {
    number: Generated<number>
    reading_id: string
    photo_id: string
    options: string
    state: StoredReadingState
    attempts: Generated<number>
    created_at: string
    finished_at: string | null
    outcome: string | null
    result: string | null
    failure: string | null
    result_schema: string | null
    ladder_id: GeneratedAlways<string | null>
  }
  left_out: {
    number: Generated<number>
    photo_id: string
    slot: number
    reason: string
    created_at: string
    lifted_at: string | null
  }
  uploads: { upload_id: string; reading_id: string }
  records: {
    record_id: string
    kind: RecordKind
    content: string
    search: string
    created_at: string
    changed_at: string
    archived_at: string | null
  }
  sheets: { sheet_id: string; setting_id: string; content: string; created_at: string }
  links: {
    link_id: string
    token_hash: string
    sheet_id: string
    created_at: string
    expires_at: string
    revoked_at: string | null
    views: Generated<number>
  }
  known_keys: { public_key: string; name: string; created_at: string }
  record_versions: {
    number: Generated<number>
    record_id: string
    content: string
    archived_at: string | null
    changed_at: string
  }
}
export type Database = Kysely<Tables>

interface Statement {
  all(...parameters: readonly unknown[]): unknown[]
  run(...parameters: readonly unknown[]): { changes: number; lastInsertRowid: number }
  iterate(...parameters: readonly unknown[]): IterableIterator<unknown>
  columns(): readonly unknown[]
}

/** Kysely's dialect speaks to better-sqlite3; this package has the interface of Node's own `node:sqlite`. */
const adapt = (raw: DatabaseSyncInstance): SqliteDatabase => ({
  close: () => raw.close(),
  prepare: (sql) => {
    const statement = raw.prepare(sql) as unknown as Statement
    return {
      reader: statement.columns().length > 0,
      all: (parameters) => statement.all(...parameters),
      run: (parameters) => statement.run(...parameters),
      iterate: (parameters) => statement.iterate(...parameters),
    }
  },
})

function migrate(raw: DatabaseSyncInstance): void {
  const { user_version: version } = raw.prepare('pragma user_version').get() as { user_version: number }
  if (version > migrations.length)
    throw new UsageError('The data folder was written by a newer Stepglass. Start that one, or choose another folder.')
  for (const [i, step] of migrations.entries()) {
    if (i < version) continue
    raw.exec(`begin; ${step}; pragma user_version = ${i + 1}; commit`)
  }
}

/** Opens a database file, made when missing, and brings it to the newest version. */
export function openSqlite(file: string): Database {
  const raw = new DatabaseSync(file)
  try {
    // Full: what has been acknowledged is on the disk, not only in the system's memory.
    raw.exec('pragma journal_mode = wal; pragma synchronous = full; pragma foreign_keys = on')
    migrate(raw)
  } catch (error) {
    raw.close()
    throw error
  }
  return new Kysely<Tables>({ dialect: new SqliteDialect({ database: adapt(raw) }) })
}
