import { Type } from 'typebox'
import { Value } from 'typebox/value'
import { measureLadder, MeasureOptions, type LadderReading } from '../../analysis/index.js'
import { readingReport } from '../report/reading-report.js'
import { UsageError } from '../usage-error.js'
import { checkReadable, readBytes } from './files.js'

export interface MeasureFlags {
  readonly json?: boolean
  readonly profiles?: boolean
  readonly toleranceUm?: number
  readonly timeStepS?: number
  readonly smallestLineUm?: number
  readonly smallestSpaceUm?: number
  readonly caliper?: NonNullable<MeasureOptions['caliperMm']>
  readonly caliperUMm?: number
  readonly prefer?: 'size' | 'clarity'
}

/** @throws {UsageError} if an option lies outside what its schema states */
function optionsOf({ json: _json, profiles = false, caliper, caliperUMm, ...wishes }: MeasureFlags) {
  const options: Partial<MeasureOptions> = {
    ...wishes,
    ...(caliper && { caliperMm: caliper }),
    ...(caliperUMm !== undefined && { caliperUncertaintyMm: caliperUMm }),
    keepProfiles: profiles,
  }
  const [error] = Value.Errors(Type.Partial(MeasureOptions), options)
  if (error) throw new UsageError(`${error.instancePath.slice(1)} ${error.message}; give caliper readings as 1=4.02`)
  return options
}

const UNREADABLE = 2
const NO_SUGGESTION = 3

function exitCodeOf(readings: readonly LadderReading[]): number {
  if (readings.some((reading) => 'refusal' in reading)) return UNREADABLE
  return readings.every((reading) => 'suggestion' in reading) ? 0 : NO_SUGGESTION
}

/** Reads photographs and prints what they say. @returns the exit code */
export async function measure(photos: readonly string[], flags: MeasureFlags): Promise<number> {
  const { json = false } = flags
  const options = optionsOf(flags)
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
