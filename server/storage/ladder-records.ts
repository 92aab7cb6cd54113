import type { CouponLabels, LadderDesign } from '../../analysis/index.js'
import type { LadderList, LadderRecord } from '../api/ladders.js'
import { newLadderId } from '../random-name.js'
import type { Selectable } from 'kysely'
import type { Database, Tables } from './sqlite.js'

const recordOf = (row: Selectable<Tables['ladders']>): LadderRecord => {
  const labels = JSON.parse(row.labels) as CouponLabels
  return {
    design: JSON.parse(row.design) as LadderDesign,
    createdAt: row.created_at,
    ...(Object.keys(labels).length > 0 && { labels }),
  }
}

/** The ladders that were planned here or seen on a photograph. The first design under a name is kept. */
export function ladderRecords(db: Database) {
  /** @returns the record, unless the name is taken */
  async function add(design: LadderDesign): Promise<LadderRecord | undefined> {
    const createdAt = new Date().toISOString()
    const added = await db
      .insertInto('ladders')
      .values({ ladder_id: design.ladderId, design: JSON.stringify(design), created_at: createdAt })
      .onConflict((conflict) => conflict.doNothing())
      .returning('ladder_id')
      .executeTakeFirst()
    return added && { design, createdAt }
  }

  return {
    add,

    /** Records a design under a name that no ladder here has. */
    async plan(design: Omit<LadderDesign, 'ladderId'>): Promise<LadderRecord> {
      for (;;) {
        const record = await add({ ladderId: newLadderId(), ...design })
        if (record) return record
      }
    },

    async list(): Promise<LadderList> {
      const rows = await db.selectFrom('ladders').selectAll().orderBy('created_at', 'desc').execute()
      return { ladders: rows.map(recordOf) }
    },

    /** What the coupons of a ladder are of; empty when nobody has said. */
    async labelsOf(ladderId: string): Promise<CouponLabels> {
      const row = await db.selectFrom('ladders').select('labels').where('ladder_id', '=', ladderId).executeTakeFirst()
      return row ? (JSON.parse(row.labels) as CouponLabels) : {}
    },

    /** Puts labels in place of those before. @returns the record, unless there is no such ladder */
    async label(ladderId: string, labels: CouponLabels): Promise<LadderRecord | undefined> {
      const row = await db
        .updateTable('ladders')
        .set({ labels: JSON.stringify(labels) })
        .where('ladder_id', '=', ladderId)
        .returningAll()
        .executeTakeFirst()
      return row && recordOf(row)
    },
  }
}
