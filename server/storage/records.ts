import { randomUUID } from 'node:crypto'
import { sql, type Selectable, type SelectQueryBuilder } from 'kysely'
import type { ListQuery, RecordContent, RecordKind, RecordList, StoredRecord } from '../api/records.js'
import type { Database, Tables } from './tables.js'

type Row = Selectable<Tables['records']> & { changes: number }

const fromRow = (row: Row): StoredRecord<RecordContent> => ({
  recordId: row.record_id,
  createdAt: row.created_at,
  changedAt: row.changed_at,
  ...(row.archived_at !== null && { archivedAt: row.archived_at }),
  changes: row.changes,
  content: JSON.parse(row.content) as RecordContent,
})

/** All words of a content, for searching. */
export const searchText = (content: object): string =>
  Object.values(content)
    .filter((value) => ['string', 'number'].includes(typeof value))
    .join(' ')
    .toLowerCase()

/** A record's row. */
export const recordRow = (
  kind: RecordKind,
  recordId: string,
  content: RecordContent,
  times: { readonly createdAt: string; readonly changedAt: string; readonly archivedAt?: string },
) => ({
  record_id: recordId,
  kind,
  content: JSON.stringify(content),
  search: searchText(content),
  created_at: times.createdAt,
  changed_at: times.changedAt,
  archived_at: times.archivedAt ?? null,
})

/** All of these are to be found, each anywhere. */
export const searchWords = (search: string): string[] => search.toLowerCase().split(/\s+/).filter(Boolean)

/** Pattern for SQL's `like` that finds a word anywhere; the escape character is a backslash. */
export const likePattern = (word: string): string => `%${word.replaceAll(/[\\%_]/g, '\\$&')}%`

/** Resins, bottles, printers and settings. Each change keeps the state before it, so that it can be undone. */
export function recordStore(db: Database) {
  const withChanges = () =>
    db
      .selectFrom('records')
      .selectAll()
      .select((is) =>
        is
          .selectFrom('record_versions')
          .select(({ fn }) => fn.countAll<number>().as('changes'))
          .whereRef('record_versions.record_id', '=', 'records.record_id')
          .as('changes'),
      )
      .$narrowType<{ changes: number }>()

  async function get(kind: RecordKind, recordId: string): Promise<StoredRecord<RecordContent> | undefined> {
    const row = await withChanges().where('record_id', '=', recordId).where('kind', '=', kind).executeTakeFirst()
    return row && fromRow(row)
  }

  /** Keeps the state there is, then puts another in its place. */
  async function replace(kind: RecordKind, recordId: string, content: string, archivedAt: string | null) {
    await db.transaction().execute(async (change) => {
      await change
        .insertInto('record_versions')
        .columns(['record_id', 'content', 'archived_at', 'changed_at'])
        .expression((is) =>
          is
            .selectFrom('records')
            .select(['record_id', 'content', 'archived_at', 'changed_at'])
            .where('record_id', '=', recordId),
        )
        .execute()
      await change
        .updateTable('records')
        .set({
          content,
          archived_at: archivedAt,
          changed_at: new Date().toISOString(),
          search: searchText(JSON.parse(content) as object),
        })
        .where('record_id', '=', recordId)
        .where('kind', '=', kind)
        .execute()
    })
  }

  return {
    get,

    async add(kind: RecordKind, content: RecordContent): Promise<StoredRecord<RecordContent>> {
      const recordId = randomUUID()
      const now = new Date().toISOString()
      await db
        .insertInto('records')
        .values(recordRow(kind, recordId, content, { createdAt: now, changedAt: now }))
        .execute()
      return { recordId, createdAt: now, changedAt: now, changes: 0, content }
    },

    async list(
      kind: RecordKind,
      { search = '', archived = false, limit = 50, offset = 0 }: ListQuery,
    ): Promise<RecordList<RecordContent>> {
      const wanted = <O>(query: SelectQueryBuilder<Tables, 'records', O>) =>
        searchWords(search).reduce(
          (narrowed, word) => narrowed.where(sql<boolean>`search like ${likePattern(word)} escape '\\'`),
          query.where('kind', '=', kind).where('archived_at', archived ? 'is not' : 'is', null),
        )
      const { total } = await wanted(
        db.selectFrom('records').select(({ fn }) => fn.countAll<number>().as('total')),
      ).executeTakeFirstOrThrow()
      const rows = await wanted(withChanges()).orderBy('created_at', 'desc').limit(limit).offset(offset).execute()
      return { total, records: rows.map((row) => fromRow(row)) }
    },

    /** @returns the record as it now is, unless there is none */
    async change(
      kind: RecordKind,
      recordId: string,
      { content, archived }: { content?: RecordContent; archived?: boolean },
    ): Promise<StoredRecord<RecordContent> | undefined> {
      const before = await get(kind, recordId)
      if (!before) return undefined
      const now = new Date().toISOString()
      const archivedAt = (archived ?? before.archivedAt !== undefined) ? (before.archivedAt ?? now) : null
      await replace(kind, recordId, JSON.stringify(content ?? before.content), archivedAt)
      return get(kind, recordId)
    },

    /** Brings back the state before the last change; that change is kept in turn, so that undo undoes undo. */
    async undo(kind: RecordKind, recordId: string): Promise<StoredRecord<RecordContent> | undefined> {
      const last = await db
        .selectFrom('record_versions')
        .selectAll()
        .where('record_id', '=', recordId)
        .orderBy('number', 'desc')
        .executeTakeFirst()
      if (last) await replace(kind, recordId, last.content, last.archived_at)
      return get(kind, recordId)
    },
  }
}
