import { sql } from 'kysely'
import type { LadderReading } from '../../analysis/index.js'
import type { ReadingList, ReadingReply, ReadingSummary } from '../api/readings.js'
import type { LeftOutRecords } from './left-out-records.js'
import { readingConclusions } from './reading-conclusions.js'
import { readingJobs } from './reading-jobs.js'
import { commonOf, SUMMARY_COLUMNS, summaryOf } from './reading-rows.js'
import type { Database } from './tables.js'

/** The readings: what is still to be read, and what those say that have ended. */
export function readingRecords(db: Database, leftOut: LeftOutRecords) {
  const jobs = readingJobs(db)
  const { resultsOf, ...conclusions } = readingConclusions(db, leftOut, jobs)

  const withPhoto = () => db.selectFrom('readings').innerJoin('photos', 'photos.photo_id', 'readings.photo_id')
  const whole = () => withPhoto().selectAll('readings').select(['name', 'simulated', 'extension'])
  const rowOf = (readingId: string) => whole().where('reading_id', '=', readingId).executeTakeFirst()

  return {
    ...jobs,
    ...conclusions,

    /** The newest finished reading of a simulated photograph. */
    async simulated(): Promise<string | undefined> {
      const newest = sql<number>`(select max(number) from readings where state = 'done'
        and photo_id in (select photo_id from photos where simulated = 1))`
      const row = await db.selectFrom('readings').select('reading_id').where('number', '=', newest).executeTakeFirst()
      return row?.reading_id
    },

    async get(readingId: string): Promise<ReadingReply | undefined> {
      const row = await rowOf(readingId)
      if (!row) return undefined
      const { measured, concluded, leftOut } = await resultsOf(row)
      if (row.result !== null && !measured) return { ...commonOf(row), state: 'outdated', leftOut }
      // What is left out is shown all the same.
      const result =
        concluded && 'rungs' in concluded && 'rungs' in measured ? { ...concluded, rungs: measured.rungs } : concluded
      return { ...commonOf(row), ...(result && { result }), leftOut }
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

    async ofPhoto(photoId: string): Promise<string[]> {
      const rows = await db.selectFrom('readings').select('reading_id').where('photo_id', '=', photoId).execute()
      return rows.map(({ reading_id: readingId }) => readingId)
    },

    /** The newest finished reading of each photograph of a ladder, oldest photograph first, without what is left out. */
    async ofLadder(ladderId: string): Promise<readonly { summary: ReadingSummary; result: LadderReading }[]> {
      const rows = await whole()
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
