import { randomUUID } from 'node:crypto'
import { sql, type ExpressionBuilder, type Selectable } from 'kysely'
import { Value } from 'typebox/value'
import { leaveOut, type LadderReading } from '../../analysis/index.js'
import type { LadderFacts } from '../api/ladders.js'
import type { ErrorReply } from '../api/common.js'
import {
  ReadingOptions,
  type PhotoAccepted,
  type ReadingList,
  type ReadingOutcome,
  type ReadingReply,
  type ReadingSummary,
} from '../api/readings.js'
import { outcomeOf } from './reading-outcome.js'
import type { LeftOutRecords } from './left-out-records.js'
import { currentResult, RESULT_SCHEMA } from './result-schema.js'
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

type Photo = Pick<Selectable<Tables['photos']>, 'name' | 'simulated' | 'extension'>
type SummaryRow = Omit<Selectable<Tables['readings']>, 'result'> & Photo
type Row = Selectable<Tables['readings']> & Photo

const now = () => new Date().toISOString()

const ENDED_THE_PROGRAM: ErrorReply = {
  code: 'ended-the-program',
  message: `Stepglass ended ${MAX_ATTEMPTS} times while it read this photograph.`,
  advice: 'Take a new photograph, or save this one as JPEG and upload it again.',
}

/** Options that mean the same as one text: defaults filled in, in the order of the schema, caliper readings by slot. */
function optionsText(options: ReadingOptions): string {
  const filled = Value.Default(ReadingOptions, { ...options }) as ReadingOptions
  const inOrder = {
    ...filled,
    ...(filled.caliperMm && {
      caliperMm: filled.caliperMm
        .map(({ slot, widthMm }) => ({ slot, widthMm }))
        .sort((a, b) => a.slot - b.slot || a.widthMm - b.widthMm),
    }),
  }
  const names = Object.keys(ReadingOptions.properties) as (keyof ReadingOptions)[]
  return JSON.stringify(Object.fromEntries(names.map((name) => [name, inOrder[name]])))
}

const SUMMARY_COLUMNS = [
  ...(['number', 'reading_id', 'readings.photo_id', 'options', 'state', 'attempts', 'readings.created_at'] as const),
  ...(['finished_at', 'outcome', 'failure', 'result_schema', 'ladder_id', 'name', 'simulated', 'extension'] as const),
]

const common = (row: SummaryRow) => ({
  readingId: row.reading_id,
  photoId: row.photo_id,
  photoName: row.name,
  simulated: row.simulated === 1,
  createdAt: row.created_at,
  ...(row.finished_at !== null && { finishedAt: row.finished_at }),
  options: JSON.parse(row.options) as ReadingOptions,
  state: row.state,
  ...(row.failure !== null && { failure: JSON.parse(row.failure) as ErrorReply }),
})

const summaryOf = (row: SummaryRow): ReadingSummary => ({
  ...common(row),
  ...(row.outcome !== null && { outcome: JSON.parse(row.outcome) as ReadingOutcome }),
})

/** The readings: also the queue of what is still to be read, so that a restart goes on where it stopped. */
export function readingRecords(db: Database, leftOut: LeftOutRecords) {
  const withPhoto = () => db.selectFrom('readings').innerJoin('photos', 'photos.photo_id', 'readings.photo_id')

  async function queue(readingId: string): Promise<void> {
    const fresh = { attempts: 0, finished_at: null, outcome: null, result: null, result_schema: null, failure: null }
    await db
      .updateTable('readings')
      .set({ ...fresh, state: 'queued' })
      .where('reading_id', '=', readingId)
      .where('state', 'in', ['done', 'failed'])
      .execute()
  }

  const rowOf = (readingId: string) =>
    withPhoto()
      .selectAll('readings')
      .select(['name', 'simulated', 'extension'])
      .where('reading_id', '=', readingId)
      .executeTakeFirst()

  /** Coupons of a ladder that were printed turned, where its page says so. */
  async function turnedOf(ladderId: string | null): Promise<number[] | undefined> {
    if (ladderId === null) return undefined
    const row = await db.selectFrom('ladders').select('facts').where('ladder_id', '=', ladderId).executeTakeFirst()
    return row && (JSON.parse(row.facts) as LadderFacts).turnedSlots
  }

  /** The result as it was measured, and as it stands without the coupons that are left out. */
  async function resultsOf(row: Row) {
    const measured = row.result === null ? undefined : currentResult(row.result, row.result_schema)
    const without = await leftOut.of(row.photo_id)
    const options = JSON.parse(row.options) as ReadingOptions
    const turnedSlots = options.turnedSlots ?? (await turnedOf(row.ladder_id))
    const asMeasured = without.length === 0 && turnedSlots === options.turnedSlots
    const concluded =
      !measured || 'refusal' in measured || asMeasured
        ? measured
        : leaveOut(measured, without, { ...options, ...(turnedSlots && { turnedSlots }) })
    return { measured, concluded, leftOut: without }
  }

  /** Writes down what a reading says in short, as it now stands. */
  async function conclude(readingId: string): Promise<void> {
    const row = await rowOf(readingId)
    const concluded = row && (await resultsOf(row)).concluded
    if (!concluded) return
    await db
      .updateTable('readings')
      .set({ outcome: JSON.stringify(outcomeOf(concluded)) })
      .where('reading_id', '=', readingId)
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
      if (readingId !== undefined) await giveUp().where('reading_id', '=', readingId).execute()
      const taking = db
        .updateTable('readings')
        .set((is) => ({ state: 'reading' as const, attempts: is('attempts', '+', 1) }))
        .returning(['reading_id', 'photo_id', 'options', 'attempts'])
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
        .executeTakeFirst()
      if (!taken) return undefined
      const photo = await db
        .selectFrom('photos')
        .select('extension')
        .where('photo_id', '=', taken.photo_id)
        .executeTakeFirstOrThrow()
      return {
        readingId: taken.reading_id,
        photoId: taken.photo_id,
        extension: photo.extension,
        options: JSON.parse(taken.options) as ReadingOptions,
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

    /** @returns whether it was still to be ended by whoever holds this job; else nothing changes */
    async finish(job: ReadingJob, result: LadderReading): Promise<boolean> {
      const done = { state: 'done', result: JSON.stringify(result), result_schema: RESULT_SCHEMA } as const
      const { numUpdatedRows } = await whileTaken(job)
        .set({ ...done, finished_at: now() })
        .executeTakeFirst()
      if (numUpdatedRows > 0) await conclude(job.readingId)
      return numUpdatedRows > 0
    },

    conclude,

    /** Adds a reading made elsewhere. @returns 1 if it is new, else 0 */
    async addFinished(
      reading: { readingId: string; photoId: string; options: ReadingOptions; createdAt: string; finishedAt?: string },
      result: string,
    ): Promise<number> {
      const added = await db
        .insertInto('readings')
        .values({
          reading_id: reading.readingId,
          photo_id: reading.photoId,
          options: optionsText(reading.options),
          state: 'done',
          created_at: reading.createdAt,
          finished_at: reading.finishedAt ?? null,
          result,
        })
        .onConflict((conflict) => conflict.doNothing())
        .returning('reading_id')
        .execute()
      for (const { reading_id: readingId } of added) await conclude(readingId)
      return added.length
    },

    /** @returns as `finish` */
    async fail(job: ReadingJob, failure: ErrorReply): Promise<boolean> {
      const { numUpdatedRows } = await whileTaken(job)
        .set({ state: 'failed', failure: JSON.stringify(failure), finished_at: now() })
        .executeTakeFirst()
      return numUpdatedRows > 0
    },

    /** The newest finished reading of a simulated photograph. */
    async simulated(): Promise<string | undefined> {
      const newest = sql<number>`(select max(number) from readings where state = 'done'
        and photo_id in (select photo_id from photos where simulated = 1))`
      const row = await db.selectFrom('readings').select('reading_id').where('number', '=', newest).executeTakeFirst()
      return row?.reading_id
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

    async get(readingId: string): Promise<ReadingReply | undefined> {
      const row = await rowOf(readingId)
      if (!row) return undefined
      const { measured, concluded, leftOut } = await resultsOf(row)
      if (row.result !== null && !measured) return { ...common(row), state: 'outdated', leftOut }
      // What is left out is shown all the same.
      const result =
        concluded && measured && 'rungs' in concluded && 'rungs' in measured
          ? { ...concluded, rungs: measured.rungs }
          : concluded
      return { ...common(row), ...(result && { result }), leftOut }
    },

    /** A finished reading without what is left out; nothing while there is none that this version can use. */
    async concluded(readingId: string): Promise<LadderReading | undefined> {
      const row = await rowOf(readingId)
      return row && (await resultsOf(row)).concluded
    },

    async summary(readingId: string): Promise<ReadingSummary | undefined> {
      const row = await withPhoto().select(SUMMARY_COLUMNS).where('reading_id', '=', readingId).executeTakeFirst()
      return row && summaryOf(row)
    },

    /** Writes down anew what the readings of a ladder say in short. */
    async concludeLadder(ladderId: string): Promise<void> {
      const rows = await db.selectFrom('readings').select('reading_id').where('ladder_id', '=', ladderId).execute()
      for (const { reading_id: readingId } of rows) await conclude(readingId)
    },

    async ofPhoto(photoId: string): Promise<string[]> {
      const rows = await db.selectFrom('readings').select('reading_id').where('photo_id', '=', photoId).execute()
      return rows.map(({ reading_id: readingId }) => readingId)
    },

    /** The newest finished reading of each photograph of a ladder, oldest photograph first, without what is left out. */
    async ofLadder(ladderId: string): Promise<readonly { summary: ReadingSummary; result: LadderReading }[]> {
      const rows = await withPhoto()
        .selectAll('readings')
        .select(['name', 'simulated', 'extension'])
        .where('number', 'in', (is) =>
          is
            .selectFrom('readings')
            .select(sql<number>`max(number)`.as('number'))
            .where('state', '=', 'done')
            .where('ladder_id', '=', ladderId)
            .groupBy('photo_id'),
        )
        .orderBy('number')
        .execute()
      const all = await Promise.all(rows.map(async (row) => ({ row, result: (await resultsOf(row)).concluded })))
      return all.flatMap(({ row, result }) => (result ? [{ summary: summaryOf(row), result }] : []))
    },

    async list({
      limit,
      offset,
      ladderId,
    }: {
      limit: number
      offset: number
      ladderId?: string | undefined
    }): Promise<ReadingList> {
      const { total } = await db
        .selectFrom('readings')
        .select(({ fn }) => fn.countAll<number>().as('total'))
        .$if(ladderId !== undefined, (query) => query.where('ladder_id', '=', ladderId!))
        .executeTakeFirstOrThrow()
      const rows = await withPhoto()
        .select(SUMMARY_COLUMNS)
        .$if(ladderId !== undefined, (query) => query.where('ladder_id', '=', ladderId!))
        .orderBy('number', 'desc')
        .limit(limit)
        .offset(offset)
        .execute()
      return { total, readings: rows.map(summaryOf) }
    },
  }
}
export type ReadingRecords = ReturnType<typeof readingRecords>
