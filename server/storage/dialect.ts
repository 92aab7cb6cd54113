import { PostgresAdapter } from 'kysely'
import type { Database } from './tables.js'

/** Which of the two databases this is, for the few places where they differ in more than their tables. */
export const isPostgres = (db: Database): boolean => db.getExecutor().adapter instanceof PostgresAdapter
