import type { LadderReading } from '../../analysis/index.js'
import type { ErrorReply } from '../api/common.js'
import type { PhotoAccepted, ReadingOptions } from '../api/readings.js'
import type { ReceivedPhoto } from './incoming-photos.js'
import { ladderRecords } from './ladder-records.js'
import { leftOutRecords } from './left-out-records.js'
import { openFolder, openShared } from './place.js'
import type { ReadingJob } from './reading-jobs.js'
import { readingRecords } from './reading-records.js'
import { recordStore } from './records.js'
import { sheetRecords } from './sheet-records.js'
import type { Database } from './tables.js'
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
 * Opens what is kept in a data folder, or in the database where one is named, and puts right what a process left that
 * ended in the middle of something.
 *
 * @throws {UsageError} if another process has the folder open, a newer version wrote it, or it cannot be used
 */
export async function openStore(dataFolder: string, databaseUrl?: string) {
  const place = await (databaseUrl === undefined ? openFolder(dataFolder) : openShared(databaseUrl))
  const { db, files } = place
  const all = recordsIn(db)
  const started = await place.putRight(all.readings).catch(async (error: unknown) => {
    await place.close()
    throw error
  })

  /** Does several changes so that all are made or none, even if the process ends in between. */
  const atOnce = <T>(work: (records: StoredRecords, db: Database) => Promise<T>): Promise<T> =>
    db.transaction().execute((change) => work(recordsIn(change), change))

  const findPhoto = (photoId: string) =>
    db.selectFrom('photos').selectAll().where('photo_id', '=', photoId).executeTakeFirst()

  type NewPhoto = PhotoFacts & { createdAt?: string }

  /** Sees to it that the bytes are safe. @returns the row that may be written now */
  async function keepBytes(received: ReceivedPhoto, photo: NewPhoto) {
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
  async function record(
    change: Database,
    received: ReceivedPhoto,
    row: Awaited<ReturnType<typeof keepBytes>>,
  ): Promise<number> {
    await files.keepWithRecord(received, change)
    const added = await change
      .insertInto('photos')
      .values(row)
      .onConflict((conflict) => conflict.doNothing())
      .returning('photo_id')
      .execute()
    return added.length
  }

  return {
    ...place,
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
      const row = await keepBytes(received, photo)
      return atOnce((_records, change) => record(change, received, row))
    },

    /** Keeps a received photograph and sees to it that it is read. When this resolves, a crash loses nothing of it. */
    async accept(
      received: ReceivedPhoto,
      facts: PhotoFacts,
      options: ReadingOptions,
      uploadId?: string,
    ): Promise<PhotoAccepted> {
      const row = await keepBytes(received, facts)
      return atOnce(async ({ readings }, change) => {
        await record(change, received, row)
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

    /** Does something with the file of a photograph. @returns what came of it, unless there is no such photograph */
    async usePhoto<T>(photoId: string, work: (path: string) => Promise<T>): Promise<T | undefined> {
      const photo = await findPhoto(photoId)
      return photo && files.use(photoId, photo.extension, work)
    },

    /** @returns whether it was still to be ended by whoever holds this job */
    finish: (job: ReadingJob, result: LadderReading): Promise<boolean> =>
      atOnce(async ({ ladders, readings }) => {
        if (!('refusal' in result)) await ladders.add(result.design, { origin: 'card' })
        return readings.finish(job, result)
      }),

    async isEmpty(): Promise<boolean> {
      return (await all.readings.list({ limit: 1, offset: 0 })).total === 0
    },
  }
}
export type Store = Awaited<ReturnType<typeof openStore>>
