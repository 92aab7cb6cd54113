import { createHash, randomBytes, randomUUID } from 'node:crypto'
import type { Selectable } from 'kysely'
import type { KnownKey, LinkEntry, NewLink, SettingSheet, SheetEntry } from '../api/sheets.js'
import type { Database, Tables } from './tables.js'

/** 192 bits: nobody guesses an address. */
const TOKEN_BYTES = 24
const DAY_MS = 86_400_000

/** Only the hash is kept: who reads the database cannot open a link, and looking one up compares hashes. */
const hashOf = (token: string) => createHash('sha256').update(token).digest('hex')

const entryOf = (row: Selectable<Tables['sheets']>): SheetEntry => ({
  sheetId: row.sheet_id,
  settingId: row.setting_id,
  createdAt: row.created_at,
  sheet: JSON.parse(row.content) as SettingSheet,
})

const linkOf = (row: Selectable<Tables['links']>): LinkEntry => ({
  linkId: row.link_id,
  createdAt: row.created_at,
  expiresAt: row.expires_at,
  ...(row.revoked_at !== null && { revokedAt: row.revoked_at }),
  views: row.views,
})

/** Sheets as they were handed on or taken in, the links that lead to them, and the keys that are known. */
export function sheetRecords(db: Database) {
  return {
    /** Keeps a sheet as it is: what was handed on does not change with the records it was made of. */
    async add(settingId: string, sheet: SettingSheet, createdAt = new Date().toISOString()): Promise<SheetEntry> {
      const entry = { sheetId: sheet.sheetId, settingId, createdAt, sheet }
      await db
        .insertInto('sheets')
        .values({
          sheet_id: sheet.sheetId,
          setting_id: settingId,
          content: JSON.stringify(sheet),
          created_at: createdAt,
        })
        .execute()
      return entry
    },

    async get(sheetId: string): Promise<SheetEntry | undefined> {
      const row = await db.selectFrom('sheets').selectAll().where('sheet_id', '=', sheetId).executeTakeFirst()
      return row && entryOf(row)
    },

    async all(): Promise<SheetEntry[]> {
      return (await db.selectFrom('sheets').selectAll().orderBy('created_at').execute()).map(entryOf)
    },

    /** Newest first. */
    async ofSetting(settingId: string): Promise<SheetEntry[]> {
      const rows = await db
        .selectFrom('sheets')
        .selectAll()
        .where('setting_id', '=', settingId)
        .orderBy('created_at', 'desc')
        .execute()
      return rows.map(entryOf)
    },

    async addLink(sheetId: string, days: number): Promise<NewLink> {
      const token = randomBytes(TOKEN_BYTES).toString('base64url')
      const now = Date.now()
      const row = {
        link_id: randomUUID(),
        token_hash: hashOf(token),
        sheet_id: sheetId,
        created_at: new Date(now).toISOString(),
        expires_at: new Date(now + days * DAY_MS).toISOString(),
        revoked_at: null,
        views: 0,
      }
      await db.insertInto('links').values(row).execute()
      return { ...linkOf(row), path: `/s/${token}` }
    },

    async links(sheetId: string): Promise<LinkEntry[]> {
      const rows = await db
        .selectFrom('links')
        .selectAll()
        .where('sheet_id', '=', sheetId)
        .orderBy('created_at', 'desc')
        .execute()
      return rows.map(linkOf)
    },

    /** @returns whether there was such a link */
    async revoke(sheetId: string, linkId: string): Promise<boolean> {
      const { numUpdatedRows } = await db
        .updateTable('links')
        .set((now) => ({ revoked_at: now.fn.coalesce('revoked_at', now.val(new Date().toISOString())) }))
        .where('sheet_id', '=', sheetId)
        .where('link_id', '=', linkId)
        .executeTakeFirst()
      return numUpdatedRows > 0
    },

    /** The sheet behind a token that is neither expired nor revoked. @param counted whether this is a view */
    async behind(token: string, counted: boolean): Promise<SettingSheet | undefined> {
      const row = await db
        .selectFrom('links')
        .innerJoin('sheets', 'sheets.sheet_id', 'links.sheet_id')
        .select(['link_id', 'content'])
        .where('token_hash', '=', hashOf(token))
        .where('revoked_at', 'is', null)
        .where('expires_at', '>', new Date().toISOString())
        .executeTakeFirst()
      if (!row) return undefined
      if (counted)
        await db
          .updateTable('links')
          .set(({ eb }) => ({ views: eb('views', '+', 1) }))
          .where('link_id', '=', row.link_id)
          .execute()
      return JSON.parse(row.content) as SettingSheet
    },

    /** Gives a key a name, or another one. */
    async name({ publicKey, name }: KnownKey): Promise<void> {
      await db
        .insertInto('known_keys')
        .values({ public_key: publicKey, name, created_at: new Date().toISOString() })
        .onConflict((conflict) => conflict.column('public_key').doUpdateSet({ name }))
        .execute()
    },

    async knownKeys(): Promise<KnownKey[]> {
      const rows = await db.selectFrom('known_keys').selectAll().orderBy('name').execute()
      return rows.map(({ public_key: publicKey, name }) => ({ publicKey, name }))
    },
  }
}
