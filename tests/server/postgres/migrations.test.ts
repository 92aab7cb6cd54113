import pg from 'pg'
import { expect, it, onTestFinished } from 'vitest'
import { openPostgres } from '../../../server/storage/postgres.js'
import { postgresMigrations } from '../../../server/storage/postgres-migrations.js'
import { newDatabase } from '../support/database.js'

async function open(address: string): Promise<void> {
  const { db } = await openPostgres(address)
  await db.destroy()
}

/** Asks a database without opening it as the service does. */
async function ask(address: string, query: string): Promise<object[]> {
  const client = new pg.Client({ connectionString: address })
  await client.connect()
  try {
    return (await client.query<object>(query)).rows
  } finally {
    await client.end()
  }
}
const version = (address: string) => ask(address, 'select version from schema_version')
const newest = [{ version: postgresMigrations.length }]

it('brings a database up to date once, though several services start on it at the same moment', async () => {
  const address = await newDatabase({ empty: true })
  await Promise.all([1, 2, 3].map(() => open(address)))
  expect(await version(address)).toEqual(newest)
  await open(address)
  expect(await version(address)).toEqual(newest)
})

it('leaves the database as it was when a step cannot be taken, and takes it when what was in its way is gone', async () => {
  const address = await newDatabase({ empty: true })
  // In the way of the last table but a few: what the step made before is undone.
  await ask(address, 'create table known_keys (a integer)')
  await expect(open(address)).rejects.toThrow('already exists')
  expect(await version(address)).toEqual([{ version: 0 }])
  expect(await ask(address, `select from pg_tables where tablename = 'ladders'`)).toEqual([])
  await ask(address, 'drop table known_keys')
  await open(address)
  expect(await version(address)).toEqual(newest)
})

it('refuses what a newer version wrote, and leaves it alone', async () => {
  const address = await newDatabase()
  await ask(address, 'update schema_version set version = version + 1')
  await expect(open(address)).rejects.toThrow('newer Stepglass')
  expect(await version(address)).toEqual([{ version: postgresMigrations.length + 1 }])
})

it('says in one line why a database cannot be used, without its password', async () => {
  const address = await newDatabase()
  const other = (change: Partial<URL>) => Object.assign(new URL(address), { password: 'in-secret', ...change }).href
  const cases = [
    [other({ port: '1' }), 'nothing listens there'],
    [other({ pathname: '/no_such_one' }), 'it has no database of that name'],
    ['mysql://localhost/x', 'has the form postgres://'],
  ] as const
  for (const [wrong, why] of cases) {
    const said = await openPostgres(wrong).then(
      ({ db }) => onTestFinished(() => db.destroy()),
      (error: unknown) => String(error),
    )
    expect(said).toContain(why)
    expect(said).not.toContain('in-secret')
  }
})
