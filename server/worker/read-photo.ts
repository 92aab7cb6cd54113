import { readFile } from 'node:fs/promises'
import { Value } from 'typebox/value'
import { LadderReading, measureLadder, type MeasureOptions, type Stage } from '../../analysis/index.js'

export interface PhotoTask {
  readonly path: string
  readonly options: Partial<MeasureOptions>
}

/** Reads one photograph; runs in a process of its own. @param tell told each stage as it begins */
export default async function readPhoto(
  { path, options }: PhotoTask,
  tell: (stage: Stage) => void,
): Promise<LadderReading> {
  const reading = await measureLadder(await readFile(path), options, tell)
  // JSON would turn a number that is none into null without a word.
  const [error] = Value.Errors(LadderReading, reading)
  if (error)
    throw new TypeError(`readPhoto needs a reading that follows its schema: ${error.instancePath} ${error.message}`)
  return reading
}
