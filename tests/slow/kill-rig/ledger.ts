/** What was sent of one thing, in order; what may stand is the last that was acknowledged, or anything sent after it. */
export interface History<T> {
  readonly sent: T[]
  from: number
}

/** What the service has acknowledged, and what it may have done without saying so before it was killed. */
export class Ledger {
  /** By the name of the upload. */
  readonly photos = new Map<string, { photoId: string; readingId: string }>()
  /** Sent and not acknowledged yet: to be sent again, as a phone does. */
  readonly unsent = new Map<string, Uint8Array>()
  /** Names of a record, and how many of its changes were acknowledged. */
  readonly records = new Map<string, History<string> & { changes: number }>()
  readonly ladders = new Set<string>()
  readonly sheets = new Set<string>()
  readonly knownKeys = new Map<string, string>()
  /** What the service called its own key: one, for ever. */
  readonly ownKeys = new Set<string>()
  /** Coupons by photograph and slot: reasons to leave them out, null for none. */
  readonly leftOut = new Map<string, History<string | null>>()
  /** Readings seen to be finished. */
  readonly done = new Set<string>()

  get size(): number {
    const { photos, records, ladders, sheets, leftOut, knownKeys } = this
    return photos.size + records.size + ladders.size + sheets.size + leftOut.size + knownKeys.size
  }
}

export const mayStand = <T>({ sent, from }: History<T>): T[] => sent.slice(from)

/** The ledger as it was, for a backup that was begun then: it may hold what was sent meanwhile. */
export function asOf(now: Ledger, then: Ledger): Ledger {
  const widen = <T extends History<unknown>>(later: Map<string, T>, earlier: Map<string, T>) =>
    earlier.forEach((history, key) => history.sent.splice(0, Infinity, ...(later.get(key)?.sent ?? [])))
  widen<History<unknown>>(now.records, then.records)
  widen<History<unknown>>(now.leftOut, then.leftOut)
  return then
}
