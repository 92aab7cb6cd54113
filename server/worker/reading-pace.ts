import type { Pool } from 'pg'
import type { Waiting } from '../api/readings.js'

/** What a reading is taken to last before the first one was read. */
const FIRST_GUESS_S = 5
/** How much the newest reading counts: the last ten or so make up the mean. */
const WEIGHT = 0.2

/** Where readings wait. */
interface Queued {
  /** How many are read before this one; nothing when it does not wait. */
  ahead: (readingId: string) => Promise<number | undefined>
}

interface Pace {
  /** What one reading takes. */
  readonly meanS: number
  /** How many end in a second. */
  readonly perS: number
}

/** The pace of everyone who reads for a database; nothing when nobody does. */
async function paceOfAll(shared: Pool): Promise<Pace | undefined> {
  const { rows } = await shared.query<Pace>(
    'select avg(mean_s) as "meanS", sum(per_s) as "perS" from readers having sum(per_s) > 0',
  )
  return rows[0]
}

/**
 * How long readings take, to tell those who wait.
 *
 * @param readers photographs that this process reads at the same time
 * @param shared the database, if others read as well
 */
export function readingPace(readers: number, shared?: Pool) {
  let meanS = FIRST_GUESS_S
  let known = false
  const own = (): Pace => ({ meanS, perS: readers / meanS })
  // Where nobody reads at the moment, somebody is taken to come.
  const now = async () => (shared && (await paceOfAll(shared))) ?? { meanS, perS: Math.max(1, readers) / meanS }
  return {
    own,

    note: (tookS: number): void => {
      meanS = known ? meanS + WEIGHT * (tookS - meanS) : tookS
      known = true
    },

    /** How long a reading has to wait; nothing when none is before it. */
    async waitingOf(readingId: string, { ahead: aheadOf }: Queued): Promise<Waiting | undefined> {
      const ahead = await aheadOf(readingId)
      if (!ahead) return undefined
      const pace = await now()
      return { ahead, estimatedS: Math.ceil(ahead / pace.perS + pace.meanS) }
    },

    /** Until one place in a full queue is free. */
    nextPlaceS: async (): Promise<number> => Math.max(1, Math.ceil(1 / (await now()).perS)),
  }
}
export type ReadingPace = ReturnType<typeof readingPace>
