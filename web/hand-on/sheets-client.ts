import type { Setting, StoredRecord } from '../../server/api/records.js'
import type {
  Adapted,
  AdaptRequest,
  LinkEntry,
  NewLink,
  SheetEntry,
  SheetForm,
  SheetRequest,
  SideBySide,
  TakenIn,
} from '../../server/api/sheets.js'
import { call, sendJson } from '../api-client.js'

const settingPath = (settingId: string) => `/api/settings/${encodeURIComponent(settingId)}`
const sheetPath = (sheetId: string) => `/api/sheets/${encodeURIComponent(sheetId)}`

export const getSetting = (settingId: string): Promise<StoredRecord<Setting>> => call(settingPath(settingId))
export const makeSheet = (settingId: string, wishes: SheetRequest): Promise<SheetEntry> =>
  call(`${settingPath(settingId)}/sheets`, sendJson(wishes))
export const sheetsOf = (settingId: string): Promise<{ sheets: SheetEntry[] }> =>
  call(`${settingPath(settingId)}/sheets`)
export const sheetUrl = (sheetId: string, form: SheetForm, paper?: 'letter'): string =>
  `${sheetPath(sheetId)}/as/${form}${paper ? `?paper=${paper}` : ''}`
export const labelUrl = (sheetId: string, size: string): string => `${sheetPath(sheetId)}/label?size=${size}`

export const makeLink = (sheetId: string, days: number): Promise<NewLink> =>
  call(`${sheetPath(sheetId)}/links`, sendJson({ days }))
export const linksOf = (sheetId: string): Promise<{ links: LinkEntry[] }> => call(`${sheetPath(sheetId)}/links`)
export const revokeLink = (sheetId: string, linkId: string): Promise<LinkEntry> =>
  call(`${sheetPath(sheetId)}/links/${encodeURIComponent(linkId)}`, { method: 'DELETE' })

export const adaptSetting = (settingId: string, to: AdaptRequest): Promise<Adapted> =>
  call(`${settingPath(settingId)}/adapt`, sendJson(to))
export const compareSettings = (first: string, second: string): Promise<SideBySide> =>
  call(`/api/settings/side-by-side?${new URLSearchParams({ first, second })}`)
export const tableUrl = (form: 'html' | 'csv' | 'json', ids: readonly string[]): string =>
  `/api/settings/table/${form}?${new URLSearchParams({ ids: ids.join(',') })}`

export function takeIn(file: File): Promise<TakenIn> {
  const body = new FormData()
  body.set('sheet', file)
  return call('/api/settings/take-in', { method: 'POST', body })
}
export const nameKey = (publicKey: string, name: string): Promise<unknown> =>
  call('/api/known-keys', sendJson({ publicKey, name }))
