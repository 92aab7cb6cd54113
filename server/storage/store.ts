import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { LadderReading } from '../../analysis/index.js'
import type { PhotoAccepted, ReadingOptions } from '../api/readings.js'
import { lockFolder } from './folder-lock.js'
import { ladderRecords } from './ladder-records.js'
import { leftOutRecords } from './left-out-records.js'
import { openPhotoFiles, type ReceivedPhoto } from './photo-files.js'
import { readingRecords } from './reading-records.js'
import { recordStore } from './records.js'
import { sheetRecords } from './sheet-records.js'
import { openSqlite } from './sqlite.js'

export interface PhotoFacts {
  /** The file's name where it came from. */
  readonly name: string
  /** Lower case, without the point. */
  readonly extension: string
  /** Whether it is a simulation that came with the program. */
  readonly simulated: boolean
}

/**
 * Opens a data folder, made when missing: photographs as files, all else in SQLite.
 *
 * @throws {UsageError} if another process has it open, or a newer version wrote it
 */
export async function openStore(folder: string) {
  await mkdir(folder, { recursive: true })
  const unlock = lockFolder(join(folder, 'lock.sqlite'))
  const db = openSqlite(join(folder, 'stepglass.sqlite'))
  const files = await openPhotoFiles(folder)
  const leftOut = leftOutRecords(db)
  const readings = readingRecords(db, leftOut)
  const ladders = ladderRecords(db, readings)
  const records = recordStore(db)
  const sheets = sheetRecords(db)
  await readings.recover()

  const findPhoto = (photoId: string) =>
    db.selectFrom('photos').selectAll().where('photo_id', '=', photoId).executeTakeFirst()

  const addPhoto = async (received: ReceivedPhoto, photo: PhotoFacts & { createdAt?: string }): Promise<number> => {
    const { photoId, bytes } = received
    const extension = (await findPhoto(photoId))?.extension ?? photo.extension
    await files.keep(received, extension)
    const added = await db
      .insertInto('photos')
      .values({
        photo_id: photoId,
        extension,
        name: photo.name,
        bytes,
        simulated: photo.simulated ? 1 : 0,
        created_at: photo.createdAt ?? new Date().toISOString(),
      })
      .onConflict((conflict) => conflict.doNothing())
      .returning('photo_id')
      .execute()
    return added.length
  }

  return {
    db,
    files,
    ladders,
    readings,
    records,
    sheets,
    leftOut,

    /** Keeps a photograph without having it read. @returns 1 if it is new, else 0 */
    addPhoto,

    /** Keeps a received photograph and sees to it that it is read. When this resolves, a crash loses nothing of it. */
    async accept(
      received: ReceivedPhoto,
      facts: PhotoFacts,
      options: ReadingOptions,
      uploadId?: string,
    ): Promise<PhotoAccepted> {
      await addPhoto(received, facts)
      const accepted = await readings.ensure(received.photoId, options)
      if (uploadId !== undefined)
        await db
          .insertInto('uploads')
          .values({ upload_id: uploadId, reading_id: accepted.readingId })
          .onConflict((conflict) => conflict.doNothing())
          .execute()
      return accepted
    },

    /** What an upload of this name became, if it arrived. */
    uploaded: (uploadId: string): Promise<PhotoAccepted | undefined> =>
      db
        .selectFrom('uploads')
        .innerJoin('readings', 'readings.reading_id', 'uploads.reading_id')
        .select(['readings.reading_id as readingId', 'photo_id as photoId'])
        .where('upload_id', '=', uploadId)
        .executeTakeFirst(),

    /** Takes a coupon out of the answer for a reason, or without one in again. @returns whether there is such a photograph */
    async leaveOut(photoId: string, slot: number, reason: string | undefined): Promise<boolean> {
      if (!(await findPhoto(photoId))) return false
      await (reason === undefined ? leftOut.lift(photoId, slot) : leftOut.leaveOut(photoId, slot, reason))
      for (const readingId of await readings.ofPhoto(photoId)) await readings.conclude(readingId)
      return true
    },

    async photoPath(photoId: string): Promise<string | undefined> {
      const photo = await findPhoto(photoId)
      return photo && files.pathOf(photoId, photo.extension)
    },

    async finish(readingId: string, result: LadderReading): Promise<void> {
      if (!('refusal' in result)) await ladders.add(result.design, { origin: 'card' })
      await readings.finish(readingId, result)
    },

    async isEmpty(): Promise<boolean> {
      return (await readings.list({ limit: 1, offset: 0 })).total === 0
    },

    async close(): Promise<void> {
      await db.destroy()
      unlock()
    },
  }
}
export type Store = Awaited<ReturnType<typeof openStore>>
