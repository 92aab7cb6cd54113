import { DatabaseSync } from '@photostructure/sqlite'
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

/** Every row of every table of a database that is closed or being written to, and its version. */
export function databaseRows(file: string): Record<string, unknown> {
  const db = new DatabaseSync(file, { readOnly: true })
  try {
    const tables = db.prepare('select name, sql from sqlite_schema order by name').all() as {
      name: string
      sql: string | null
    }[]
    const rows = tables
      .filter(({ sql }) => sql !== null && /^create table/i.test(sql))
      .map(({ name }) => [name, db.prepare(`select * from "${name}" order by 1, 2`).all()] as const)
    const version: unknown = db.prepare('pragma user_version').get()
    return { ...Object.fromEntries<unknown>(rows), schema: tables, version }
  } finally {
    db.close()
  }
}

/** SHA-256 of each file below a folder. */
export function fileSums(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
  return Object.fromEntries(
    files
      .map(({ parentPath, name }) => join(parentPath, name))
      .sort()
      .map((path) => [path.slice(folder.length + 1), createHash('sha256').update(readFileSync(path)).digest('hex')]),
  )
}

/** Overwrites pages of a database, the first left out, as a failing disk would. @param table only those of its rows */
export function damagePages(file: string, table?: string): void {
  const db = new DatabaseSync(file)
  // What lies in the log is no longer read from there.
  db.exec('pragma wal_checkpoint(truncate)')
  const { page_size: size } = db.prepare('pragma page_size').get() as { page_size: number }
  const pages =
    table === undefined
      ? db.prepare('select distinct pageno from dbstat where pageno > 1').all()
      : db.prepare("select pageno from dbstat where name = ? and pagetype in ('leaf', 'overflow')").all(table)
  db.close()
  const bytes = readFileSync(file)
  for (const { pageno } of pages as { pageno: number }[]) bytes.fill(0x5a, (pageno - 1) * size, pageno * size)
  writeFileSync(file, bytes)
}
