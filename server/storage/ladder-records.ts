import { sql, type Selectable, type SelectQueryBuilder } from 'kysely'
import type { CouponLabels, LadderDesign } from '../../analysis/index.js'
import type { LadderEntry, LadderFacts, LadderList, LadderListQuery, LadderRecord } from '../api/ladders.js'
import { newLadderId } from '../random-name.js'
import { nextStep } from './next-step.js'
import type { readingRecords } from './reading-records.js'
import { searchWords } from './records.js'
import { searchLadders } from './search-ladders.js'
import type { Database, Tables } from './tables.js'

type Row = Selectable<Tables['ladders']>
type EntryRow = Row & { latest: string | null; bottle: string | null; printer: string | null; accepted: number }

const recordOf = (row: Row): LadderRecord => {
  const labels = JSON.parse(row.labels) as CouponLabels
  return {
    design: JSON.parse(row.design) as LadderDesign,
    createdAt: row.created_at,
    ...(Object.keys(labels).length > 0 && { labels }),
    facts: JSON.parse(row.facts) as LadderFacts,
    origin: row.origin,
    ...(row.archived_at !== null && { archivedAt: row.archived_at }),
  }
}

const nameOfLinked = (field: 'bottleId' | 'printerId') =>
  sql<string | null>`(select content ->> 'name' from records where record_id = facts ->> ${sql.lit(field)})`

/**
 * A number: SQLite has no truth values. The name is made an expression: beside a column of texts SQLite would not use the
 * index of that expression.
 */
const accepted = sql<number>`case when exists (
  select 1 from records
  where kind = 'setting' and archived_at is null and content ->> 'ladderId' = ladders.ladder_id || ''
) then 1 else 0 end`

/** The same as a list, for asking it of all ladders at once. */
const acceptedLadders = sql`
  select content ->> 'ladderId' from records
  where kind = 'setting' and archived_at is null and content ->> 'ladderId' is not null`

/** Ladders of a process give no setting to accept: those with an answer of their own are done. */
const answered = sql<boolean>`(ladders.design ->> 'factor' is not null and exists (
  select 1 from readings where readings.ladder_id = ladders.ladder_id
  and (outcome -> 'process' ->> 'suggestion' is not null
    or outcome -> 'process' -> 'noSuggestion' ->> 'code' = 'trend-only')))`

/** Simulated photographs are few: their ladders are looked up once, not for each ladder. */
const ofSimulation = sql<boolean>`ladders.ladder_id in (
  select readings.ladder_id from photos join readings using (photo_id)
  where photos.simulated = 1 and readings.ladder_id is not null)`

/** The ladders that were planned here or seen on a photograph. The first design under a name is kept. */
export function ladderRecords(db: Database, readings: ReturnType<typeof readingRecords>) {
  /** @returns the record, unless the name is taken */
  async function add(
    design: LadderDesign,
    { facts = {}, origin }: { facts?: LadderFacts; origin: LadderRecord['origin'] },
  ): Promise<LadderRecord | undefined> {
    const createdAt = new Date().toISOString()
    const added = await db
      .insertInto('ladders')
      .values({
        ladder_id: design.ladderId,
        design: JSON.stringify(design),
        facts: JSON.stringify(facts),
        origin,
        created_at: createdAt,
      })
      .onConflict((conflict) => conflict.doNothing())
      .returning('ladder_id')
      .executeTakeFirst()
    return added && { design, createdAt, facts, origin }
  }

  const find = (ladderId: string) =>
    db.selectFrom('ladders').selectAll().where('ladder_id', '=', ladderId).executeTakeFirst()

  const entries = () =>
    db
      .selectFrom('ladders')
      .selectAll('ladders')
      .select([
        // The plus has SQLite look at the ladder's readings only, not at all of them from the newest down.
        sql<string | null>`(select reading_id from readings where number = (
        select max(+number) from readings where readings.ladder_id = ladders.ladder_id))`.as('latest'),
        nameOfLinked('bottleId').as('bottle'),
        nameOfLinked('printerId').as('printer'),
        accepted.as('accepted'),
      ])

  async function entryOf(row: EntryRow): Promise<LadderEntry> {
    const latest = row.latest === null ? undefined : await readings.summary(row.latest)
    const record = recordOf(row)
    return {
      ...record,
      next: nextStep(record, latest, row.accepted === 1),
      simulated: latest?.simulated ?? false,
      ...(latest && { latest }),
      ...(row.bottle !== null && { bottle: row.bottle }),
      ...(row.printer !== null && { printer: row.printer }),
    }
  }

  return {
    add,

    /** Records a design under a name that no ladder here has. */
    async plan(design: Omit<LadderDesign, 'ladderId'>, facts: LadderFacts = {}): Promise<LadderRecord> {
      for (;;) {
        const record = await add({ ladderId: newLadderId(), ...design }, { facts, origin: 'planned' })
        if (record) return record
      }
    },

    async get(ladderId: string): Promise<LadderEntry | undefined> {
      const row = await entries().where('ladders.ladder_id', '=', ladderId).executeTakeFirst()
      return row && entryOf(row)
    },

    async list(query: LadderListQuery = {}): Promise<LadderList> {
      const { search = '', archived = false, open = false, origin, simulated, limit = 50, offset = 0 } = query
      const wanted = <O>(from: SelectQueryBuilder<Tables, 'ladders', O>) => {
        let narrowed = from.where('ladders.archived_at', archived ? 'is not' : 'is', null)
        if (origin) narrowed = narrowed.where('origin', '=', origin)
        if (simulated === false) narrowed = narrowed.where(sql<boolean>`not ${ofSimulation}`)
        if (open)
          narrowed = narrowed.where(sql<boolean>`ladders.ladder_id not in (${acceptedLadders}) and not ${answered}`)
        if (searchWords(search).length > 0) narrowed = narrowed.where(searchLadders(db, search))
        return narrowed
      }
      const { total } = await wanted(
        db.selectFrom('ladders').select(({ fn }) => fn.countAll<number>().as('total')),
      ).executeTakeFirstOrThrow()
      // Which ones first: what belongs to each is looked up for these alone.
      const shown = await wanted(db.selectFrom('ladders').select('ladder_id'))
        .orderBy('ladders.created_at', 'desc')
        .limit(limit)
        .offset(offset)
        .execute()
      if (shown.length === 0) return { total, ladders: [] }
      const rows = await entries()
        .where(
          'ladders.ladder_id',
          'in',
          shown.map(({ ladder_id: ladderId }) => ladderId),
        )
        .orderBy('ladders.created_at', 'desc')
        .execute()
      return { total, ladders: await Promise.all(rows.map(entryOf)) }
    },

    /** Ladders whose coupons shall be photographed again, and when they were so far; none that was not yet. */
    async toRemeasure(): Promise<{ ladderId: string; bottle?: string; photographed: string[] }[]> {
      // Which ladders first: joined at once, SQLite looks at every photograph there is.
      const asked = await db
        .selectFrom('ladders')
        .select('ladder_id')
        .where('archived_at', 'is', null)
        // SQLite gives JSON's truth as a number, PostgreSQL as a word.
        .where(sql<boolean>`cast(facts ->> 'remeasure' as text) in ('1', 'true')`)
        .execute()
      if (asked.length === 0) return []
      const photographs = await db
        .selectFrom('ladders')
        .innerJoin('readings', 'readings.ladder_id', 'ladders.ladder_id')
        .innerJoin('photos', 'photos.photo_id', 'readings.photo_id')
        .select(['ladders.ladder_id', nameOfLinked('bottleId').as('bottle'), 'photos.created_at'])
        .where(
          'ladders.ladder_id',
          'in',
          asked.map(({ ladder_id: ladderId }) => ladderId),
        )
        .where('state', '=', 'done')
        .orderBy('photos.created_at')
        .execute()
      const ladders = new Map<string, { ladderId: string; bottle?: string; photographed: string[] }>()
      for (const { ladder_id: ladderId, bottle, created_at: createdAt } of photographs) {
        const ladder = ladders.get(ladderId) ?? { ladderId, ...(bottle !== null && { bottle }), photographed: [] }
        ladder.photographed.push(createdAt)
        ladders.set(ladderId, ladder)
      }
      return [...ladders.values()]
    },

    /** What the coupons of a ladder are of: what was said, else what its bottle and printer are called. */
    async labelsOf(ladderId: string): Promise<CouponLabels> {
      const row = await find(ladderId)
      if (!row) return {}
      const linked = await db
        .selectFrom('ladders')
        .select([
          nameOfLinked('bottleId').as('bottle'),
          nameOfLinked('printerId').as('printer'),
          sql<string | null>`(select content ->> 'batch' from records
            where record_id = facts ->> 'bottleId')`.as('batch'),
        ])
        .where('ladder_id', '=', ladderId)
        .executeTakeFirstOrThrow()
      const known = Object.entries(linked).filter(([, value]) => value !== null && value !== '')
      return { ...Object.fromEntries(known), ...(JSON.parse(row.labels) as CouponLabels) }
    },

    /** Puts labels or facts in place of those before, or puts the ladder away. @returns whether there is such a ladder */
    async change(
      ladderId: string,
      { labels, facts, archived }: { labels?: CouponLabels; facts?: LadderFacts; archived?: boolean },
    ): Promise<boolean> {
      const row = await find(ladderId)
      if (!row) return false
      const archivedAt = archived ? (row.archived_at ?? new Date().toISOString()) : null
      await db
        .updateTable('ladders')
        .set({
          labels: labels ? JSON.stringify(labels) : row.labels,
          facts: facts ? JSON.stringify(facts) : row.facts,
          archived_at: archived === undefined ? row.archived_at : archivedAt,
        })
        .where('ladder_id', '=', ladderId)
        .execute()
      return true
    },
  }
}
