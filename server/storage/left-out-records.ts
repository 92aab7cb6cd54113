import type { LeftOut } from '../api/readings.js'
import type { Database } from './tables.js'

/** Coupons of a photograph that someone took out of the answer. What is taken in again stays on record. */
export function leftOutRecords(db: Database) {
  async function lift(photoId: string, slot: number): Promise<void> {
    await db
      .updateTable('left_out')
      .set({ lifted_at: new Date().toISOString() })
      .where('photo_id', '=', photoId)
      .where('slot', '=', slot)
      .where('lifted_at', 'is', null)
      .execute()
  }

  return {
    lift,

    async of(photoId: string): Promise<LeftOut[]> {
      const rows = await db
        .selectFrom('left_out')
        .select(['slot', 'reason', 'created_at'])
        .where('photo_id', '=', photoId)
        .where('lifted_at', 'is', null)
        .orderBy('slot')
        .execute()
      return rows.map(({ slot, reason, created_at: createdAt }) => ({ slot, reason, createdAt }))
    },

    /** A new reason takes the place of the one before. */
    async leaveOut(photoId: string, slot: number, reason: string): Promise<void> {
      await lift(photoId, slot)
      const row = { photo_id: photoId, slot, reason, created_at: new Date().toISOString(), lifted_at: null }
      await db.insertInto('left_out').values(row).execute()
    },
  }
}
export type LeftOutRecords = ReturnType<typeof leftOutRecords>
