import type { LadderRecord, NextStep } from '../api/ladders.js'
import type { ReadingOutcome, ReadingSummary } from '../api/readings.js'

/**
 * What to do with a ladder next.
 *
 * @param latest its newest reading
 * @param accepted whether its answer became a setting
 */
export function nextStep({ facts }: LadderRecord, latest: ReadingSummary | undefined, accepted: boolean): NextStep {
  if (accepted) return 'done'
  if (!latest) return facts.steps?.includes('printed') ? 'photograph' : 'print'
  if (latest.state === 'queued' || latest.state === 'reading') return 'wait'
  if (latest.state === 'outdated' || latest.state === 'failed') return 'read-again'
  if (latest.outcome?.suggestion) return 'accept'
  if (latest.outcome?.process) return answersProcess(latest.outcome.process) ? 'done' : 'print-next'
  return latest.outcome?.noSuggestion ? 'print-next' : 'photograph-again'
}

/** A level to use, or a trend, which is all that its factor can say. */
const answersProcess = ({ suggestion, noSuggestion }: NonNullable<ReadingOutcome['process']>): boolean =>
  suggestion !== undefined || noSuggestion?.code === 'trend-only'
