import { existsSync } from 'node:fs'
import type { LadderReading } from '../../analysis/index.js'
import type { ErrorReply } from '../api/common.js'
import type { PhotoAccepted, ReadingOptions } from '../api/readings.js'
import { UsageError } from '../usage-error.js'
import { dataFiles } from './data-files.js'
import { ladderRecords } from './ladder-records.js'
import { leftOutRecords } from './left-out-records.js'
import { openDatabase } from './open-database.js'
import { photoFiles, type ReceivedPhoto } from './photo-files.js'
import { readingRecords } from './reading-records.js'
import { recordStore } from './records.js'
import { sheetRecords } from './sheet-records.js'
import type { Database } from './sqlite.js'
import { makeFolder } from './sync-folder.js'
import { takeStock } from './take-stock.js'
import { DAMAGED, storageTrouble } from './trouble.js'

export interface PhotoFacts {
  /** The file's name where it came from. */
  readonly name: string
  /** Lower case, without the point. */
  readonly extension: string
  /** Whether it is a simulation that came with the program. */
  readonly simulated: boolean
}

/** All that is kept in the database, by what it is about. */
function recordsIn(db: Database) {
  const leftOut = leftOutRecords(db)
  const readings = readingRecords(db, leftOut)
  return { leftOut, readings, ladders: ladderRecords(db, readings), records: recordStore(db), sheets: sheetRecords(db) }
}
export type StoredRecords = ReturnType<typeof recordsIn>

/**
 * Opens a data folder, made when missing: photographs as files, all else in SQLite. Puts right what a process left that
 * ended in the middle of something.
 *
 * @throws {UsageError} if another process has it open, a newer version wrote it, or it cannot be used
 */
export async function openStore(folder: string) {
  await makeFolder(folder)
  const paths = dataFiles(folder)
  if (existsSync(paths.restoring))
    throw new UsageError('A backup was not restored to its end into this data folder. Restore it there once more.')
  const opened = openDatabase(paths)
  const { db, close } = opened
  const files = photoFiles(paths)
  const all = recordsIn(db)
  const started = await takeStock(opened, all.readings, paths, folder).catch(async (error: unknown) => {
    await close()
    throw error
  })

  /** Does several changes so that all are made or none, even if the process ends in between. */
  const atOnce = <T>(work: (records: StoredRecords, db: Database) => Promise<T>): Promise<T> =>
    db.transaction().execute((change) => work(recordsIn(change), change))

  const findPhoto = (photoId: string) =>
    db.selectFrom('photos').selectAll().where('photo_id', '=', photoId).executeTakeFirst()

  type NewPhoto = PhotoFacts & { createdAt?: string }

  /** Puts the file in its place. @returns the row that may be written now that the file is safe */
  async function keepFile(received: ReceivedPhoto, photo: NewPhoto) {
    const { photoId, bytes } = received
    const extension = (await findPhoto(photoId))?.extension ?? photo.extension
    await files.keep(received, extension)
    return {
      photo_id: photoId,
      extension,
      name: photo.name,
      bytes,
      simulated: photo.simulated ? 1 : 0,
      created_at: photo.createdAt ?? new Date().toISOString(),
    }
  }

  /** @returns 1 if there was none of this photograph, else 0 */
  async function addRow(to: Database, row: Awaited<ReturnType<typeof keepFile>>): Promise<number> {
    const added = await to
      .insertInto('photos')
      .values(row)
      .onConflict((conflict) => conflict.doNothing())
      .returning('photo_id')
      .execute()
    return added.length
  }

  return {
    db,
    files,
    /** What the start found and did. */
    started,
    ...all,
    atOnce,

    /** What is wrong with the folder now, if anything is. */
    async trouble(): Promise<ErrorReply | undefined> {
      if (started.trouble) return started.trouble
      if (started.database === 'damaged') return DAMAGED.reply
      try {
        await files.tryWriting()
        return undefined
      } catch (error) {
        const found = storageTrouble(error)
        if (found) return found.reply
        throw error
      }
    },

    /** Keeps a photograph without having it read. @returns 1 if it is new, else 0 */
    async addPhoto(received: ReceivedPhoto, photo: NewPhoto): Promise<number> {
      const row = await keepFile(received, photo)
      return addRow(db, row)
    },

    /** Keeps a received photograph and sees to it that it is read. When this resolves, a crash loses nothing of it. */
    async accept(
      received: ReceivedPhoto,
      facts: PhotoFacts,
      options: ReadingOptions,
      uploadId?: string,
    ): Promise<PhotoAccepted> {
      const row = await keepFile(received, facts)
      return atOnce(async ({ readings }, change) => {
        await addRow(change, row)
        const accepted = await readings.ensure(received.photoId, options)
        if (uploadId !== undefined)
          await change
            .insertInto('uploads')
            .values({ upload_id: uploadId, reading_id: accepted.readingId })
            .onConflict((conflict) => conflict.doNothing())
            .execute()
        return accepted
      })
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
      await atOnce(async ({ leftOut, readings }) => {
        await (reason === undefined ? leftOut.lift(photoId, slot) : leftOut.leaveOut(photoId, slot, reason))
        for (const readingId of await readings.ofPhoto(photoId)) await readings.conclude(readingId)
      })
      return true
    },

    async photoPath(photoId: string): Promise<string | undefined> {
      const photo = await findPhoto(photoId)
      return photo && files.pathOf(photoId, photo.extension)
    },

    finish: (readingId: string, result: LadderReading): Promise<void> =>
      atOnce(async ({ ladders, readings }) => {
        if (!('refusal' in result)) await ladders.add(result.design, { origin: 'card' })
        await readings.finish(readingId, result)
      }),

    async isEmpty(): Promise<boolean> {
      return (await all.readings.list({ limit: 1, offset: 0 })).total === 0
    },

    close,
  }
}
export type Store = Awaited<ReturnType<typeof openStore>>
