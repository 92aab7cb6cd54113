import type { StartReport } from '../api/start-report.js'
import { counted, reasonText } from '../wording.js'
import { DAMAGED } from './trouble.js'

/** What a start found and did, in words; nothing when there was nothing to do. */
export function startLines(report: StartReport): string[] {
  const { updatedFrom, copyBefore, takenUpAgain, givenUp, cutOffRemoved, setAside, putBack } = report
  const { unfinishedRemoved, missing, database, trouble } = report
  return [
    updatedFrom !== undefined &&
      `Brought the database from version ${updatedFrom} up to date; as it was, it lies in ${copyBefore}.`,
    takenUpAgain > 0 && `Goes on with ${counted(takenUpAgain, 'reading')} that were under way when Stepglass ended.`,
    givenUp > 0 &&
      `Gave up ${counted(givenUp, 'photograph')} that Stepglass was reading each of the last times it ended; "read again" tries once more.`,
    cutOffRemoved > 0 &&
      `Removed ${counted(cutOffRemoved, 'upload')} that had not arrived whole; nobody was told it had.`,
    setAside > 0 &&
      `Moved ${counted(setAside, 'file')} that no record names from photos/ to unclaimed/: upload such a photograph again to have it read, or delete it.`,
    putBack > 0 && `Put ${counted(putBack, 'photograph')} back from unclaimed/ to photos/.`,
    unfinishedRemoved > 0 && `Removed ${counted(unfinishedRemoved, 'file')} that were half made.`,
    missing.length > 0 &&
      `Missing in photos/: ${counted(missing.length, 'photograph')}. Put them back from a backup or upload them again; their readings are kept. First: ${missing[0]}`,
    database === 'damaged' && reasonText(DAMAGED.reply),
    trouble && reasonText(trouble),
  ].filter((line) => typeof line === 'string')
}
