/** What the service has acknowledged, and what it may have done without saying so before it was killed. */
export class Ledger {
  /** By the name of the upload. */
  readonly photos = new Map<string, { photoId: string; readingId: string }>()
  /** Sent and not acknowledged yet: to be sent again, as a phone does. */
  readonly unsent = new Map<string, Uint8Array>()
  /** Names that a record may have: the one acknowledged last, and those sent after it without an answer. */
  readonly records = new Map<string, { names: string[]; changes: number }>()
  readonly ladders = new Set<string>()
  readonly sheets = new Set<string>()
  readonly knownKeys = new Map<string, string>()
  /** What the service called its own key: one, for ever. */
  readonly ownKeys = new Set<string>()
  /** Coupons by photograph and slot: reasons that may stand, null for none. */
  readonly leftOut = new Map<string, (string | null)[]>()
  /** Readings seen to be finished. */
  readonly done = new Set<string>()

  get size(): number {
    const { photos, records, ladders, sheets, leftOut, knownKeys } = this
    return photos.size + records.size + ladders.size + sheets.size + leftOut.size + knownKeys.size
  }
}

/** What a change may have led to: it was acknowledged, or sent and never answered. */
export function outcomes<T>(before: readonly T[], sent: T, acknowledged: boolean): T[] {
  return acknowledged ? [sent] : [...before, sent]
}
