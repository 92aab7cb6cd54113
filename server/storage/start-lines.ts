import type { StartReport } from '../api/start-report.js'
import { DAMAGED } from './trouble.js'

const some = (n: number, one: string, more = `${one}s`) => `${n} ${n === 1 ? one : more}`

/** What a start found and did, in words; nothing when there was nothing to do. */
export function startLines(report: StartReport): string[] {
  const { updatedFrom, copyBefore, takenUpAgain, givenUp, cutOffRemoved, setAside, putBack } = report
  const { unfinishedRemoved, missing, database, trouble } = report
  return [
    updatedFrom !== undefined &&
      `Brought the database from version ${updatedFrom} up to date; as it was, it lies in ${copyBefore}.`,
    takenUpAgain > 0 && `Goes on with ${some(takenUpAgain, 'reading')} that were under way when Stepglass ended.`,
    givenUp > 0 &&
      `Gave up ${some(givenUp, 'photograph')} that Stepglass was reading each of the last times it ended; "read again" tries once more.`,
    cutOffRemoved > 0 && `Removed ${some(cutOffRemoved, 'upload')} that had not arrived whole; nobody was told it had.`,
    setAside > 0 &&
      `Moved ${some(setAside, 'file')} that no record names from photos/ to unclaimed/: upload such a photograph again to have it read, or delete it.`,
    putBack > 0 && `Put ${some(putBack, 'photograph')} back from unclaimed/ to photos/.`,
    unfinishedRemoved > 0 && `Removed ${some(unfinishedRemoved, 'file')} that were half made.`,
    missing.length > 0 &&
      `Missing in photos/: ${some(missing.length, 'photograph')}. Put them back from a backup or upload them again; their readings are kept. First: ${missing[0]}`,
    database === 'damaged' && `${DAMAGED.reply.message} ${DAMAGED.reply.advice}`,
    trouble && `${trouble.message} ${trouble.advice}`,
  ].filter((line) => typeof line === 'string')
}
