import type { Waiting } from '../api/readings.js'
import type { PhotoPool } from './photo-pool.js'

/** What a reading is taken to last before the first one was read. */
const FIRST_GUESS_S = 5
/** How much the newest reading counts: the last ten or so make up the mean. */
const WEIGHT = 0.2

/** Where readings wait. */
interface Queued {
  /** How many are read before this one; nothing when it does not wait. */
  ahead: (readingId: string) => Promise<number | undefined>
}

/** How long readings take here, to tell those who wait. */
export function readingPace(pool: PhotoPool, nowMs: () => number = () => performance.now()) {
  let meanS = FIRST_GUESS_S
  let known = false
  const read: PhotoPool['read'] = async (...task) => {
    const startedMs = nowMs()
    try {
      return await pool.read(...task)
    } finally {
      const tookS = (nowMs() - startedMs) / 1000
      meanS = known ? meanS + WEIGHT * (tookS - meanS) : tookS
      known = true
    }
  }
  return {
    /** The same pool, with its readings timed. */
    pool: { ...pool, read },

    /** How long a reading has to wait; nothing when none is before it. */
    async waitingOf(readingId: string, { ahead: aheadOf }: Queued): Promise<Waiting | undefined> {
      const ahead = await aheadOf(readingId)
      return ahead ? { ahead, estimatedS: Math.ceil(meanS * (ahead / pool.readers + 1)) } : undefined
    },

    /** Until one place in a full queue is free. */
    nextPlaceS: (): number => Math.max(1, Math.ceil(meanS / pool.readers)),
  }
}
export type ReadingPace = ReturnType<typeof readingPace>
