import { randomUUID } from 'node:crypto'
import { sql, type ExpressionBuilder, type NotNull } from 'kysely'
import type { ErrorReply } from '../api/common.js'
import type { PhotoAccepted, ReadingOptions } from '../api/readings.js'
import { isPostgres } from './dialect.js'
import { optionsFrom, optionsText } from './reading-rows.js'
import type { Database, Tables } from './tables.js'

/** A photograph that ends the whole program, or one reader after the other, is not tried for ever. */
export const MAX_ATTEMPTS = 3

/** Word for word as in the index of these rows: with bound values SQLite would look at every row instead. */
const toDo = sql<boolean>`state in ('queued', 'reading')`

export interface ReadingJob {
  readonly readingId: string
  readonly photoId: string
  readonly extension: string
  readonly options: ReadingOptions
  /** How often the photograph was taken up, this time included. */
  readonly attempt: number
}

const now = () => new Date().toISOString()

const ENDED_THE_PROGRAM: ErrorReply = {
  code: 'ended-the-program',
  message: `Stepglass ended ${MAX_ATTEMPTS} times while it read this photograph.`,
  advice: 'Take a new photograph, or save this one as JPEG and upload it again.',
}

/** What is still to be read: kept in the database, so that a restart goes on where it stopped. */
export function readingJobs(db: Database) {
  async function queue(readingId: string): Promise<void> {
    const fresh = { attempts: 0, finished_at: null, outcome: null, result: null, result_schema: null, failure: null }
    await db
      .updateTable('readings')
      .set({ ...fresh, state: 'queued' })
      .where('reading_id', '=', readingId)
      .where('state', 'in', ['done', 'failed'])
      .execute()
  }

  /** Changes a reading, unless somebody else has taken or ended it since: each is ended once. */
  const whileTaken = ({ readingId, attempt }: ReadingJob) =>
    db
      .updateTable('readings')
      .where('reading_id', '=', readingId)
      .where('state', '=', 'reading')
      .where('attempts', '=', attempt)

  /** Gives up readings that were under way several times when the program ended. */
  const giveUp = () =>
    db
      .updateTable('readings')
      .set({ state: 'failed', failure: JSON.stringify(ENDED_THE_PROGRAM), finished_at: now() })
      .where(toDo)
      .where('state', '=', 'reading')
      .where('attempts', '>=', MAX_ATTEMPTS)

  return {
    queue,

    /** The reading of a photograph with these options, queued if there is none yet or the reader broke off. */
    async ensure(photoId: string, options: ReadingOptions): Promise<PhotoAccepted> {
      const text = optionsText(options)
      await db
        .insertInto('readings')
        .values({ reading_id: randomUUID(), photo_id: photoId, options: text, state: 'queued', created_at: now() })
        .onConflict((conflict) => conflict.doNothing())
        .execute()
      const { reading_id: readingId, state } = await db
        .selectFrom('readings')
        .select(['reading_id', 'state'])
        .where('photo_id', '=', photoId)
        .where('options', '=', text)
        .executeTakeFirstOrThrow()
      if (state === 'failed') await queue(readingId)
      return { photoId, readingId }
    },

    /** Takes up what a crash left under way, and gives up what was left so several times. */
    async recover(): Promise<{ takenUpAgain: number; givenUp: number }> {
      const givenUp = await giveUp().returning('reading_id').execute()
      const takenUpAgain = await db
        .updateTable('readings')
        .set({ state: 'queued' })
        .where(toDo)
        .where('state', '=', 'reading')
        .returning('reading_id')
        .execute()
      return { takenUpAgain: takenUpAgain.length, givenUp: givenUp.length }
    },

    /** Marks a reading as under way: the oldest that is queued, or the one named, unless it has ended. */
    async take(readingId?: string): Promise<ReadingJob | undefined> {
      const taking = db.updateTable('readings').set((is) => ({
        state: 'reading' as const,
        attempts: is('attempts', '+', 1),
      }))
      const oldest = (is: ExpressionBuilder<Tables, 'readings'>) =>
        is
          .selectFrom('readings')
          .select(sql<number>`min(number)`.as('number'))
          .where(toDo)
          .where('state', '=', 'queued')
      const taken = await (
        readingId === undefined ? taking.where('number', '=', oldest) : taking.where('reading_id', '=', readingId)
      )
        .where(toDo)
        .returning((is) => [
          ...(['reading_id', 'photo_id', 'options', 'attempts'] as const),
          is
            .selectFrom('photos')
            .select('extension')
            .whereRef('photos.photo_id', '=', 'readings.photo_id')
            .as('extension'),
        ])
        .$narrowType<{ extension: NotNull }>()
        .executeTakeFirst()
      if (!taken) return undefined
      if (taken.attempts > MAX_ATTEMPTS) {
        await giveUp().where('reading_id', '=', taken.reading_id).execute()
        return undefined
      }
      return {
        readingId: taken.reading_id,
        photoId: taken.photo_id,
        extension: taken.extension,
        options: optionsFrom(taken.options),
        attempt: taken.attempts,
      }
    },

    /** Undoes `take`. */
    async putBack(job: ReadingJob): Promise<void> {
      await whileTaken(job)
        .set({ state: 'queued', attempts: job.attempt - 1 })
        .execute()
    },

    /** Queues a reading again that was taken in vain. */
    async tryAgain(job: ReadingJob): Promise<void> {
      await whileTaken(job).set({ state: 'queued' }).execute()
    },

    /** Whether nobody else has taken or ended the reading since. In a transaction it stays so until that ends. */
    async isHeld({ readingId, attempt }: ReadingJob): Promise<boolean> {
      const held = await db
        .selectFrom('readings')
        .select('reading_id')
        .where('reading_id', '=', readingId)
        .where('state', '=', 'reading')
        .where('attempts', '=', attempt)
        .$if(isPostgres(db), (query) => query.forUpdate())
        .executeTakeFirst()
      return held !== undefined
    },

    /** @returns whether it was still to be ended by whoever holds this job; else nothing changes */
    async fail(job: ReadingJob, failure: ErrorReply): Promise<boolean> {
      const { numUpdatedRows } = await whileTaken(job)
        .set({ state: 'failed', failure: JSON.stringify(failure), finished_at: now() })
        .executeTakeFirst()
      return numUpdatedRows > 0
    },

    async waiting(): Promise<number> {
      const { count } = await db
        .selectFrom('readings')
        .select(({ fn }) => fn.countAll<number>().as('count'))
        .where(toDo)
        .executeTakeFirstOrThrow()
      return count
    },

    /** How many are read before this one; nothing when it does not wait. */
    async ahead(readingId: string): Promise<number | undefined> {
      const queued = await db
        .selectFrom('readings')
        .select('number')
        .where('reading_id', '=', readingId)
        .where('state', '=', 'queued')
        .executeTakeFirst()
      if (!queued) return undefined
      const { count } = await db
        .selectFrom('readings')
        .select(({ fn }) => fn.countAll<number>().as('count'))
        .where(toDo)
        .where('number', '<', queued.number)
        .executeTakeFirstOrThrow()
      return count
    },
  }
}
export type ReadingJobs = ReturnType<typeof readingJobs>
