import { createHash } from 'node:crypto'
import {
  combineReadings,
  flawOfOptions,
  measureLadder,
  type LadderReading,
  type MeasureOptions,
} from '../../analysis/index.js'
import { combinedReport, readingReport, refusedReport } from '../report/reading-report.js'
import { UsageError } from '../usage-error.js'
import { checkReadable, readBytes } from './files.js'

export interface MeasureFlags {
  readonly json?: boolean
  /** One answer from all photographs. */
  readonly combine?: boolean
  readonly profiles?: boolean
  readonly toleranceUm?: number
  readonly timeStepS?: number
  readonly smallestLineUm?: number
  readonly smallestSpaceUm?: number
  readonly caliper?: NonNullable<MeasureOptions['caliperMm']>
  readonly caliperUMm?: number
  readonly turned?: NonNullable<MeasureOptions['turnedSlots']>
  readonly prefer?: 'size' | 'clarity'
  readonly mostYellownessPerMm?: number
  readonly resinTemperatureC?: number
}

/** @throws {UsageError} if an option lies outside what its schema states */
function optionsOf({
  json: _json,
  combine: _combine,
  profiles = false,
  caliper,
  caliperUMm,
  turned,
  ...wishes
}: MeasureFlags) {
  const options: Partial<MeasureOptions> = {
    ...wishes,
    ...(caliper && { caliperMm: caliper }),
    ...(caliperUMm !== undefined && { caliperUncertaintyMm: caliperUMm }),
    ...(turned && { turnedSlots: turned }),
    keepProfiles: profiles,
  }
  const flaw = flawOfOptions(options)
  if (flaw !== undefined) throw new UsageError(`${flaw}; give caliper readings as 1=4.02`)
  return options
}

const UNREADABLE = 2
const NO_SUGGESTION = 3

function exitCodeOf(readings: readonly LadderReading[]): number {
  if (readings.some((reading) => 'refusal' in reading)) return UNREADABLE
  return readings.every((reading) => 'suggestion' in reading) ? 0 : NO_SUGGESTION
}

/** Combines what could be read. @returns the exit code */
function printCombined(
  photos: readonly string[],
  readings: readonly LadderReading[],
  options: Partial<MeasureOptions>,
  json: boolean,
): number {
  const read = readings.flatMap((reading, i) => ('refusal' in reading ? [] : [{ reading, name: photos[i] ?? '' }]))
  const combined = combineReadings(
    read.map(({ reading }) => reading),
    options,
  )
  const names = read.map(({ name }) => name)
  if (json) console.log(JSON.stringify(combined.ok ? combined.value : { refusal: combined.refusal }, undefined, 2))
  else
    console.log(
      `\n${combined.ok ? combinedReport(names, combined.value) : refusedReport('Combined', combined.refusal)}`,
    )
  if (!combined.ok || read.length < readings.length) return UNREADABLE
  return combined.value.suggestion ? 0 : NO_SUGGESTION
}

/** Reads photographs and prints what they say. @returns the exit code */
export async function measure(photos: readonly string[], flags: MeasureFlags): Promise<number> {
  const { json = false, combine = false } = flags
  const options = optionsOf(flags)
  // A wrong path is told before minutes are spent on the others.
  for (const photo of photos) await checkReadable(photo)

  const readings: LadderReading[] = []
  const seen = new Map<string, string>()
  for (const photo of photos) {
    const bytes = await readBytes(photo)
    const hash = createHash('sha256').update(bytes).digest('hex')
    const twin = seen.get(hash)
    if (combine && twin !== undefined)
      throw new UsageError(`${photo} is the same photograph as ${twin}; combine different ones`)
    seen.set(hash, photo)
    const reading = await measureLadder(bytes, options)
    if (!json) console.log(`${readings.length > 0 ? '\n' : ''}${readingReport(photo, reading)}`)
    readings.push(reading)
  }
  if (combine) return printCombined(photos, readings, options, json)
  if (json) console.log(JSON.stringify(photos.length === 1 ? readings[0] : readings, undefined, 2))
  return exitCodeOf(readings)
}
