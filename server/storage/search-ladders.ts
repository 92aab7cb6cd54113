import { sql, type RawBuilder } from 'kysely'
import { likePattern, searchWords } from './records.js'

/** The index knows runs of three characters. */
const SHORTEST_INDEXED = 3

/**
 * Whether a ladder has each word of a search somewhere in its name, labels or note, or in the name of its bottle or
 * printer. SQLite's own way of it; triggers keep `ladder_search` up to date (see the migrations).
 */
export function searchLadders(search: string): RawBuilder<boolean> {
  const found = searchWords(search).map((word) =>
    [...word].length < SHORTEST_INDEXED
      ? sql`words like ${likePattern(word)} escape '\\'`
      : sql`words match ${`"${word.replaceAll('"', '""')}"`}`,
  )
  return sql<boolean>`ladders.ladder_id in (select ladder_id from ladder_search where ${sql.join(found, sql` and `)})`
}
