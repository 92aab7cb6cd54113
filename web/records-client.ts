import type { AgeingReply } from '../server/api/ageing.js'
import type { ImportReply } from '../server/api/archive.js'
import type { LadderEntry, LadderList, LadderPatch, LadderPlan } from '../server/api/ladders.js'
import type { InvitationReply, NowReply } from '../server/api/now.js'
import type { LeftOutList, ReadingList } from '../server/api/readings.js'
import type {
  Bottle,
  Printer,
  RecordKind,
  RecordList,
  Report,
  Resin,
  Setting,
  StoredRecord,
} from '../server/api/records.js'
import { call, sendJson } from './api-client.js'

export type { RecordKind, StoredRecord } from '../server/api/records.js'
export interface Contents {
  resin: Resin
  bottle: Bottle
  printer: Printer
  setting: Setting
  report: Report
}

export interface Wanted {
  readonly search?: string
  readonly archived?: boolean
  readonly open?: boolean
  readonly limit?: number
}

const queryOf = (wanted: object) =>
  new URLSearchParams(
    Object.entries(wanted).flatMap(([name, value]) =>
      value === undefined || value === '' ? [] : [[name, String(value)]],
    ),
  )
const change = (method: string, body: unknown): RequestInit => ({ ...sendJson(body), method })
const ladderPath = (ladderId: string) => `/api/ladders/${encodeURIComponent(ladderId)}`

export const getNow = (): Promise<NowReply> => call('/api/now')
export const getInvitation = (): Promise<InvitationReply> => call('/api/invitation')

export const findLadders = (wanted: Wanted): Promise<LadderList> => call(`/api/ladders?${queryOf(wanted)}`)
export const getLadder = (ladderId: string): Promise<LadderEntry> => call(ladderPath(ladderId))
export const changeLadder = (ladderId: string, patch: LadderPatch): Promise<LadderEntry> =>
  call(ladderPath(ladderId), change('PATCH', patch))
export const getAgeing = (ladderId: string): Promise<AgeingReply> => call(`${ladderPath(ladderId)}/ageing`)
export const getPlan = (ladderId: string): Promise<LadderPlan> => call(`${ladderPath(ladderId)}/plan`)
export const readingsOfLadder = (ladderId: string): Promise<ReadingList> =>
  call(`/api/readings?${queryOf({ ladderId })}`)

export const findRecords = <Kind extends RecordKind>(kind: Kind, wanted: Wanted): Promise<RecordList<Contents[Kind]>> =>
  call(`/api/${kind}s?${queryOf(wanted)}`)
export const addRecord = <Kind extends RecordKind>(
  kind: Kind,
  content: Contents[Kind],
): Promise<StoredRecord<Contents[Kind]>> => call(`/api/${kind}s`, sendJson(content))
export const changeRecord = <Kind extends RecordKind>(
  kind: Kind,
  recordId: string,
  patch: { readonly content?: Contents[Kind]; readonly archived?: boolean },
): Promise<StoredRecord<Contents[Kind]>> => call(`/api/${kind}s/${recordId}`, change('PATCH', patch))
export const undoRecord = (kind: RecordKind, recordId: string): Promise<unknown> =>
  call(`/api/${kind}s/${recordId}/undo`, { method: 'POST' })

const leftOutPath = (photoId: string, slot: number) => `/api/photos/${photoId}/left-out/${slot}`
export const leaveOut = (photoId: string, slot: number, reason: string): Promise<LeftOutList> =>
  call(leftOutPath(photoId, slot), change('PUT', { reason }))
export const takeIn = (photoId: string, slot: number): Promise<LeftOutList> =>
  call(leftOutPath(photoId, slot), { method: 'DELETE' })

export const archiveUrl = '/api/archive.zip'
export const csvUrl = '/api/readings.csv'
export const importArchive = (file: File): Promise<ImportReply> =>
  call('/api/archive', { method: 'POST', headers: { 'content-type': 'application/zip' }, body: file })
