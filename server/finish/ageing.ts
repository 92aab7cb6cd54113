import { describeProcess, readProcessLadder, type ProcessOf, type ReadLadder } from '../../analysis/index.js'
import type { AgeingReply } from '../api/ageing.js'
import { processReadings } from './process-readings.js'

/** A reading of a ladder with the day its photograph came in. */
export interface DatedReading {
  readonly readingId: string
  /** ISO 8601. */
  readonly date: string
  readonly reading: ReadLadder
}

const DAY_MS = 86_400_000
const RESPONSES = ['haze', 'yellownessPerMm'] as const satisfies readonly ProcessOf[]

/**
 * How haze and yellowness of the same coupons go with time, each coupon with a level of its own.
 *
 * @param dated oldest first
 * @returns the trends; none while all photographs are of one day
 */
export function answerAgeing(dated: readonly DatedReading[]): AgeingReply {
  const photos = dated.map(({ readingId, date }) => ({
    readingId,
    date,
    days: Math.round((10 * (Date.parse(date) - Date.parse(dated[0]!.date))) / DAY_MS) / 10,
  }))
  if (!photos.some(({ days }) => days >= 1)) return { photos, responses: [] }
  const readings = new Map(dated.map(({ readingId, reading }) => [readingId, reading]))
  const coupons = dated.flatMap(({ readingId, reading }, i) =>
    reading.rungs.map(({ slot }) => ({ readingId, slot, level: String(photos[i]!.days) })),
  )
  const responses = RESPONSES.flatMap((of) => {
    const shown = coupons.filter(({ readingId, slot }) => {
      const rung = readings.get(readingId)!.rungs.find((one) => one.slot === slot)!
      return 'growthUm' in rung && rung[of] !== undefined
    })
    const found = processReadings(readings, of, shown)
    const fitted = found.ok ? readProcessLadder('age', found.value) : found
    if (!found.ok || !fitted.ok) return []
    const points = found.value.map(({ level, value, standardUncertainty }, i) => ({
      ...{ days: Number(level), slot: shown[i]!.slot, value, standardUncertainty },
    }))
    return [{ of, ...describeProcess(fitted.value, found.value), points }]
  })
  return { photos, responses }
}
