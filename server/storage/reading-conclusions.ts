import type { Selectable } from 'kysely'
import { leaveOut, type LadderReading } from '../../analysis/index.js'
import type { LadderFacts } from '../api/ladders.js'
import type { LeftOut, ReadingOptions } from '../api/readings.js'
import { isPostgres } from './dialect.js'
import type { LeftOutRecords } from './left-out-records.js'
import type { ReadingJob, ReadingJobs } from './reading-jobs.js'
import { outcomeOf } from './reading-outcome.js'
import { optionsFrom, optionsText } from './reading-rows.js'
import { currentResult, RESULT_SCHEMA } from './result-schema.js'
import type { Database, Tables } from './tables.js'

type Measured = Pick<Selectable<Tables['readings']>, 'photo_id' | 'options' | 'result' | 'result_schema'>

/**
 * What readings say, as they were measured and without what is left out. Whoever draws a conclusion in a transaction
 * holds what it rests on: somebody who changes that at the same time comes after it and concludes anew.
 */
export function readingConclusions(db: Database, leftOut: LeftOutRecords, jobs: ReadingJobs) {
  /** Coupons of a ladder that were printed turned, where its page says so. */
  async function turnedOf(ladderId: string): Promise<number[] | undefined> {
    const row = await db
      .selectFrom('ladders')
      .select('facts')
      .where('ladder_id', '=', ladderId)
      .$if(isPostgres(db) && db.isTransaction, (query) => query.forShare())
      .executeTakeFirst()
    return row && (JSON.parse(row.facts) as LadderFacts).turnedSlots
  }

  /** A result as it stands without the coupons that are left out. */
  async function standing(
    measured: LadderReading,
    photoId: string,
    options: ReadingOptions,
  ): Promise<{ concluded: LadderReading; leftOut: LeftOut[] }> {
    const without = await leftOut.of(photoId)
    if ('refusal' in measured) return { concluded: measured, leftOut: without }
    const turnedSlots = options.turnedSlots ?? (await turnedOf(measured.design.ladderId))
    const asMeasured = without.length === 0 && turnedSlots === options.turnedSlots
    const concluded = asMeasured
      ? measured
      : leaveOut(measured, without, { ...options, ...(turnedSlots && { turnedSlots }) })
    return { concluded, leftOut: without }
  }

  /** The result of a row as it was measured, and as it now stands; neither while this version has none that it can use. */
  async function resultsOf(row: Measured) {
    const measured = row.result === null ? undefined : currentResult(row.result, row.result_schema)
    if (!measured) return { measured, concluded: measured, leftOut: await leftOut.of(row.photo_id) }
    return { measured, ...(await standing(measured, row.photo_id, optionsFrom(row.options))) }
  }

  /** Writes down what a reading says in short, as it now stands. */
  async function conclude(readingId: string): Promise<void> {
    const row = await db
      .selectFrom('readings')
      .select(['photo_id', 'options', 'result', 'result_schema'])
      .where('reading_id', '=', readingId)
      .$if(isPostgres(db), (query) => query.forUpdate())
      .executeTakeFirst()
    const concluded = row && (await resultsOf(row)).concluded
    if (!concluded) return
    await db
      .updateTable('readings')
      .set({ outcome: JSON.stringify(outcomeOf(concluded)) })
      .where('reading_id', '=', readingId)
      .execute()
  }

  return {
    resultsOf,
    conclude,

    /** Writes down anew what the readings of a ladder say in short. */
    async concludeLadder(ladderId: string): Promise<void> {
      const rows = await db.selectFrom('readings').select('reading_id').where('ladder_id', '=', ladderId).execute()
      for (const { reading_id: readingId } of rows) await conclude(readingId)
    },

    /** @returns whether it was still to be ended by whoever holds this job; else nothing changes */
    async finish(job: ReadingJob, measured: LadderReading): Promise<boolean> {
      if (!(await jobs.isHeld(job))) return false
      const { concluded } = await standing(measured, job.photoId, job.options)
      await db
        .updateTable('readings')
        .set({
          state: 'done',
          result: JSON.stringify(measured),
          result_schema: RESULT_SCHEMA,
          outcome: JSON.stringify(outcomeOf(concluded)),
          finished_at: new Date().toISOString(),
        })
        .where('reading_id', '=', job.readingId)
        .execute()
      return true
    },

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
  }
}
