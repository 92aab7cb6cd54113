import { readFile } from 'node:fs/promises'
import type { MessagePort } from 'node:worker_threads'
import { Value } from 'typebox/value'
import { LadderReading, measureLadder, type MeasureOptions } from '../../analysis/index.js'

export interface PhotoTask {
  readonly path: string
  readonly options: Partial<MeasureOptions>
  /** Each stage is told here as it begins. */
  readonly progress: MessagePort
}

/** Reads one photograph; runs in a worker thread. */
export default async function readPhoto({ path, options, progress }: PhotoTask): Promise<LadderReading> {
  const reading = await measureLadder(await readFile(path), options, (stage) => progress.postMessage(stage))
  // JSON would turn a number that is none into null without a word.
  const [error] = Value.Errors(LadderReading, reading)
  if (error)
    throw new TypeError(`readPhoto needs a reading that follows its schema: ${error.instancePath} ${error.message}`)
  return reading
}
