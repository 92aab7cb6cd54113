import { measureLadder, type LadderReading, type MeasureOptions } from '../../analysis/index.js'
import { readingReport } from '../report/reading-report.js'
import { checkReadable, readBytes } from './files.js'

export interface MeasureFlags {
  readonly json?: boolean
  readonly profiles?: boolean
  readonly toleranceUm?: number
  readonly timeStepS?: number
  readonly smallestLineUm?: number
  readonly smallestSpaceUm?: number
}

const UNREADABLE = 2
const NO_SUGGESTION = 3

function exitCodeOf(readings: readonly LadderReading[]): number {
  if (readings.some((reading) => 'refusal' in reading)) return UNREADABLE
  return readings.every((reading) => 'suggestion' in reading) ? 0 : NO_SUGGESTION
}

/** Reads photographs and prints what they say. @returns the exit code */
export async function measure(photos: readonly string[], flags: MeasureFlags): Promise<number> {
  const { json = false, profiles = false, ...wishes } = flags
  const options: Partial<MeasureOptions> = { ...wishes, keepProfiles: profiles }
  // A wrong path is told before minutes are spent on the others.
  for (const photo of photos) await checkReadable(photo)

  const readings: LadderReading[] = []
  for (const photo of photos) {
    const reading = await measureLadder(await readBytes(photo), options)
    if (!json) console.log(`${readings.length > 0 ? '\n' : ''}${readingReport(photo, reading)}`)
    readings.push(reading)
  }
  if (json) console.log(JSON.stringify(photos.length === 1 ? readings[0] : readings, undefined, 2))
  return exitCodeOf(readings)
}
