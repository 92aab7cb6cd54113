import { Value } from 'typebox/value'
import { LadderReading, type Outcome, type ReadLadder } from '../../analysis/index.js'
import { UsageError } from '../usage-error.js'
import { readBytes } from './files.js'

const NO_ANSWER = 3

/** A reading that `measure --json` wrote. */
export async function readReading(path: string): Promise<ReadLadder> {
  const text = (await readBytes(path)).toString()
  let found: unknown
  try {
    found = JSON.parse(text)
  } catch {
    throw new UsageError(`${path}: no reading; write one with "stepglass measure PHOTO --json"`)
  }
  if (!Value.Check(LadderReading, found)) {
    throw new UsageError(`${path}: not the reading of one photograph; write it with "stepglass measure PHOTO --json"`)
  }
  if ('refusal' in found) throw new UsageError(`${path}: this photograph could not be read. ${found.refusal.advice}`)
  return found
}

/** Prints an answer as JSON or in words, or why there is none. @returns the exit code */
export function tell<T>(outcome: Outcome<T>, json: boolean | undefined, inWords: (value: T) => string): number {
  if (outcome.ok) {
    console.log(json ? JSON.stringify(outcome.value, undefined, 2) : inWords(outcome.value))
    return 0
  }
  const { code, advice, detail } = outcome.refusal
  if (json) console.log(JSON.stringify({ refusal: outcome.refusal }, undefined, 2))
  else console.log(`No answer. ${advice} [${code}${detail === undefined ? '' : `: ${detail}`}]`)
  return NO_ANSWER
}
