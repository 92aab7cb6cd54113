import { randomUUID } from 'node:crypto'
import { sql, type Selectable } from 'kysely'
import { Value } from 'typebox/value'
import type { LadderReading } from '../../analysis/index.js'
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
import type { Database, Tables } from './sqlite.js'

/** A photograph that ends the whole program is not tried for ever. */
const MAX_ATTEMPTS = 3

export interface ReadingJob {
  readonly readingId: string
  readonly photoId: string
  readonly extension: string
  readonly options: ReadingOptions
}

type Row = Selectable<Tables['readings']> & Pick<Selectable<Tables['photos']>, 'name' | 'simulated' | 'extension'>

const now = () => new Date().toISOString()

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

const common = (row: Row) => ({
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

/** The readings: also the queue of what is still to be read, so that a restart goes on where it stopped. */
export function readingRecords(db: Database) {
  const withPhoto = () => db.selectFrom('readings').innerJoin('photos', 'photos.photo_id', 'readings.photo_id')

  async function queue(readingId: string): Promise<void> {
    const fresh = { attempts: 0, finished_at: null, outcome: null, result: null, failure: null }
    await db
      .updateTable('readings')
      .set({ ...fresh, state: 'queued' })
      .where('reading_id', '=', readingId)
      .where('state', 'in', ['done', 'failed'])
      .execute()
  }

  const end = (readingId: string) =>
    db.updateTable('readings').set({ finished_at: now() }).where('reading_id', '=', readingId)

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
    async recover(): Promise<void> {
      const failure: ErrorReply = {
        code: 'ended-the-program',
        message: `Stepglass ended ${MAX_ATTEMPTS} times while it read this photograph.`,
        advice: 'Take a new photograph, or save this one as JPEG and upload it again.',
      }
      await db
        .updateTable('readings')
        .set({ state: 'failed', failure: JSON.stringify(failure), finished_at: now() })
        .where('state', '=', 'reading')
        .where('attempts', '>=', MAX_ATTEMPTS)
        .execute()
      await db.updateTable('readings').set({ state: 'queued' }).where('state', '=', 'reading').execute()
    },

    /** Marks the oldest queued reading as under way. */
    async takeNext(): Promise<ReadingJob | undefined> {
      const taken = await db
        .updateTable('readings')
        .set((is) => ({ state: 'reading' as const, attempts: is('attempts', '+', 1) }))
        .where('number', '=', (is) =>
          is
            .selectFrom('readings')
            .select(sql<number>`min(number)`.as('number'))
            .where('state', '=', 'queued'),
        )
        .returning(['reading_id', 'photo_id', 'options'])
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
      }
    },

    /** Undoes `takeNext`. */
    async putBack(readingId: string): Promise<void> {
      await db
        .updateTable('readings')
        .set((is) => ({ state: 'queued' as const, attempts: is('attempts', '-', 1) }))
        .where('reading_id', '=', readingId)
        .execute()
    },

    async finish(readingId: string, result: LadderReading): Promise<void> {
      await end(readingId)
        .set({ state: 'done', result: JSON.stringify(result), outcome: JSON.stringify(outcomeOf(result)) })
        .execute()
    },

    async fail(readingId: string, failure: ErrorReply): Promise<void> {
      await end(readingId)
        .set({ state: 'failed', failure: JSON.stringify(failure) })
        .execute()
    },

    async waiting(): Promise<number> {
      const { count } = await db
        .selectFrom('readings')
        .select(({ fn }) => fn.countAll<number>().as('count'))
        .where('state', 'in', ['queued', 'reading'])
        .executeTakeFirstOrThrow()
      return count
    },

    async get(readingId: string): Promise<ReadingReply | undefined> {
      const row = await withPhoto()
        .selectAll('readings')
        .select(['name', 'simulated', 'extension'])
        .where('reading_id', '=', readingId)
        .executeTakeFirst()
      if (!row) return undefined
      return { ...common(row), ...(row.result !== null && { result: JSON.parse(row.result) as LadderReading }) }
    },

    /** The newest finished reading of each photograph of a ladder, oldest photograph first. */
    async ofLadder(ladderId: string): Promise<readonly { summary: ReadingSummary; result: LadderReading }[]> {
      const rows = await withPhoto()
        .selectAll('readings')
        .select(['name', 'simulated', 'extension'])
        .where('number', 'in', (is) =>
          is
            .selectFrom('readings')
            .select(sql<number>`max(number)`.as('number'))
            .where('state', '=', 'done')
            .where(sql`outcome ->> '$.design.ladderId'`, '=', ladderId)
            .groupBy('photo_id'),
        )
        .orderBy('number')
        .execute()
      return rows.map((row) => ({
        summary: common(row),
        result: JSON.parse(row.result ?? 'null') as LadderReading,
      }))
    },

    async list({ limit, offset }: { limit: number; offset: number }): Promise<ReadingList> {
      const { total } = await db
        .selectFrom('readings')
        .select(({ fn }) => fn.countAll<number>().as('total'))
        .executeTakeFirstOrThrow()
      const rows = await withPhoto()
        .select([
          ...(['number', 'reading_id', 'readings.photo_id', 'options', 'state', 'attempts'] as const),
          ...(['readings.created_at', 'finished_at', 'outcome', 'failure', 'name', 'simulated', 'extension'] as const),
        ])
        .orderBy('number', 'desc')
        .limit(limit)
        .offset(offset)
        .execute()
      return {
        total,
        readings: rows.map((row) => ({
          ...common({ ...row, result: null }),
          ...(row.outcome !== null && { outcome: JSON.parse(row.outcome) as ReadingOutcome }),
        })),
      }
    },
  }
}
