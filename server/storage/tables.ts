import type { Generated, GeneratedAlways, Kysely } from 'kysely'
import type { StoredReadingState } from '../api/readings.js'
import type { RecordKind } from '../api/records.js'

/** Rows as SQLite and PostgreSQL give them; texts of more than one word (design, labels, facts, options, content, …) are JSON. */
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
  /** PostgreSQL only: the bytes of photographs. */
  photo_parts: { photo_id: string; part: number; bytes: Uint8Array }
  /** PostgreSQL only: what must not leave the database, such as the key that signs. */
  secrets: { name: string; value: string }
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
