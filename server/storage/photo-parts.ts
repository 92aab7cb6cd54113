import { randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { incomingPhotos, type PhotoKeep } from './incoming-photos.js'
import type { Database } from './tables.js'

/** Small enough that no process holds a whole photograph in memory, large enough that few queries fetch one. */
const PART_BYTES = 1_000_000

/**
 * Photographs in the database, in parts.
 *
 * @param folder for what is being received or looked at, on this machine alone
 */
export function photoParts(db: Database, folder: string): PhotoKeep {
  const incoming = join(folder, 'incoming')

  async function* chunks(photoId: string): AsyncGenerator<Uint8Array> {
    for (let part = 0; ; part++) {
      const row = await db
        .selectFrom('photo_parts')
        .select('bytes')
        .where('photo_id', '=', photoId)
        .where('part', '=', part)
        .executeTakeFirst()
      if (!row && part === 0) throw new Error(`the database has no photograph ${photoId}`)
      if (!row) return
      yield row.bytes
      if (row.bytes.length < PART_BYTES) return
    }
  }

  return {
    ...incomingPhotos(incoming),
    chunks,
    // Bytes and row are in one database.
    has: () => Promise.resolve(true),
    // If it cannot be written to, the database itself says so.
    tryWriting: () => Promise.resolve(),

    keep: () => Promise.resolve(),

    async keepWithRecord({ photoId, file }, change) {
      let part = 0
      for await (const bytes of createReadStream(file, { highWaterMark: PART_BYTES }) as AsyncIterable<Buffer>)
        await change
          .insertInto('photo_parts')
          .values({ photo_id: photoId, part: part++, bytes })
          .onConflict((conflict) => conflict.doNothing())
          .execute()
    },

    async use(photoId, _extension, work) {
      const path = join(folder, randomUUID())
      try {
        await writeFile(path, chunks(photoId))
        return await work(path)
      } finally {
        await rm(path, { force: true })
      }
    },
  }
}
