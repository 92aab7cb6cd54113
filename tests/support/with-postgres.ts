import type { TestProject } from 'vitest/node'
import { openPostgres } from '../../server/storage/postgres.js'
import { createDatabase, startPostgres } from './postgres.js'

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of a database with all its tables, to be copied. */
    emptyDatabase?: string
    /** Why there is none. */
    noDatabase?: string
  }
}

/** Starts PostgreSQL once for all test files of a project. */
export default async function setup({ provide }: TestProject): Promise<(() => Promise<void>) | undefined> {
  try {
    const server = await startPostgres()
    const address = await createDatabase(server.address)
    const { db } = await openPostgres(address)
    await db.destroy()
    provide('emptyDatabase', address)
    return server.stop
  } catch (error) {
    provide('noDatabase', `no PostgreSQL could be started: ${String(error)}`)
    return undefined
  }
}
