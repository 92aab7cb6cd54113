import type { LadderReading, ProcessConclusion } from '../../analysis/index.js'
import type { ReadingOutcome } from '../api/readings.js'

/** What a list of readings says of a result. */
export function outcomeOf(result: LadderReading): ReadingOutcome {
  if ('refusal' in result) return { rungsRead: 0, rungsRefused: 0, refusal: result.refusal }
  const { design, rungs, suggestion, noSuggestion, process } = result
  const rungsRefused = rungs.filter((rung) => 'refusal' in rung).length
  return {
    design,
    rungsRead: rungs.length - rungsRefused,
    rungsRefused,
    ...(suggestion && { suggestion }),
    ...(noSuggestion && { noSuggestion }),
    ...(process && { process: inShort(process) }),
  }
}

function inShort({ responses: _, ...short }: ProcessConclusion): NonNullable<ReadingOutcome['process']> {
  return short
}
