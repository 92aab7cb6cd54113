import { inject, onTestFinished } from 'vitest'
import { createDatabase, dropDatabase } from '../../support/postgres.js'

/** Whether the tests run on PostgreSQL, not in a data folder. */
export const onPostgres = process.env['STORE'] === 'postgres'

/** A database that is gone after the test, with all its tables or none. */
export async function newDatabase({ empty = false } = {}): Promise<string> {
  const address = await createDatabase(inject('emptyDatabase') ?? '', { copy: !empty })
  onTestFinished(() => dropDatabase(address))
  return address
}

const databases = new Map<string, Promise<string>>()

/** Where what belongs to a data folder is kept when the tests run on PostgreSQL. */
export async function databaseOf(dataFolder: string): Promise<string | undefined> {
  if (!onPostgres) return undefined
  const known = databases.get(dataFolder) ?? newDatabase()
  databases.set(dataFolder, known)
  return known
}
