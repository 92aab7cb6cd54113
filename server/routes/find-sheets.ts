import type { Setting, StoredRecord } from '../api/records.js'
import type { SettingSheet, SheetEntry } from '../api/sheets.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { makeSheet } from '../sheets/gather.js'

export const today = (): string => new Date().toISOString().slice(0, 10)

export const missing = (what: string, name: string): ServiceError =>
  new ServiceError(404, `no-such-${what}`, `There is no ${what} ${name}.`, 'Look for it in /api/settings.')

/** Settings and sheets by name, or the failure that says there is none. */
export function findSheets({ store, pictures }: Service) {
  const settingOf = async (recordId: string): Promise<StoredRecord<Setting>> => {
    const record = await store.records.get('setting', recordId)
    if (!record) throw missing('setting', recordId)
    return record as StoredRecord<Setting>
  }

  const entryOf = async (sheetId: string): Promise<SheetEntry> => {
    const entry = await store.sheets.get(sheetId)
    if (!entry) throw missing('sheet', sheetId)
    return entry
  }

  /** The sheet that a received setting came with, else one made of what is on record now. */
  const sheetFor = async (recordId: string): Promise<SettingSheet> => {
    const { content } = await settingOf(recordId)
    const [received] = content.origin === 'received' ? await store.sheets.ofSetting(recordId) : []
    return received?.sheet ?? makeSheet({ store, pictures }, content, { photo: false }, today())
  }
  return { settingOf, entryOf, sheetFor }
}
