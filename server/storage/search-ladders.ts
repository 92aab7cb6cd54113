import { sql, type RawBuilder } from 'kysely'
import { isPostgres } from './dialect.js'
import { likePattern, searchWords } from './records.js'
import type { Database } from './tables.js'

/** SQLite's index knows runs of three characters. */
const SHORTEST_INDEXED = 3

/**
 * Whether a ladder has each word of a search somewhere in its name, labels or note, or in the name of its bottle or
 * printer: `ladder_search` has them. In SQLite it is an index that triggers keep up to date, in PostgreSQL a view.
 */
export function searchLadders(db: Database, search: string): RawBuilder<boolean> {
  const found = searchWords(search).map((word) =>
    isPostgres(db) || [...word].length < SHORTEST_INDEXED
      ? sql`words like ${likePattern(word)} escape '\\'`
      : sql`words match ${`"${word.replaceAll('"', '""')}"`}`,
  )
  return sql<boolean>`ladders.ladder_id in (select ladder_id from ladder_search where ${sql.join(found, sql` and `)})`
}
