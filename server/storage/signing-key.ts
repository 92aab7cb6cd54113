import { randomUUID } from 'node:crypto'
import { link, open, readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { newSigningKey } from '../sheets/signature.js'
import { syncFolder } from './sync-folder.js'
import type { Database } from './tables.js'

/**
 * Writes a file that is there whole or not at all. One of that name that came in between stays: sheets out in the
 * world are signed with it.
 */
async function writeOnce(folder: string, path: string, text: string): Promise<void> {
  const unfinished = `${path}.${randomUUID()}.part`
  try {
    const file = await open(unfinished, 'wx', 0o600)
    try {
      await file.writeFile(text)
      await file.sync()
    } finally {
      await file.close()
    }
    await link(unfinished, path).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'EEXIST') throw error
    })
  } finally {
    await rm(unfinished, { force: true })
  }
  await syncFolder(folder)
}

/** The key with which this service signs sheets. */
export interface SigningKey {
  /** The private key as PEM, made when first wanted. */
  pem(): Promise<string>
}

/** The key as a file of the data folder that only its owner may read. */
export function keyInFolder(dataFolder: string): SigningKey {
  const path = join(dataFolder, 'signing-key.pem')
  return {
    async pem() {
      try {
        return await readFile(path, 'utf8')
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error
      }
      await writeOnce(dataFolder, path, newSigningKey())
      return readFile(path, 'utf8')
    },
  }
}

/** The key in a database: the same for every service there. */
export function keyInDatabase(db: Database): SigningKey {
  const name = 'signing-key'
  const find = () => db.selectFrom('secrets').select('value').where('name', '=', name).executeTakeFirst()
  return {
    async pem() {
      const found = await find()
      if (found) return found.value
      await db
        .insertInto('secrets')
        .values({ name, value: newSigningKey() })
        .onConflict((conflict) => conflict.doNothing())
        .execute()
      return (await find())!.value
    },
  }
}
