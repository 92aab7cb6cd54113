import {
  describeProcess,
  FACTORS,
  readProcessLadder,
  type Factor,
  type Outcome,
  type ProcessOf,
} from '../../analysis/index.js'
import type { ProcessLadderReply } from '../api/finish.js'

/** What coupons say that were treated differently and lie on any cards. */
export function answerProcessLadder(
  factor: Factor,
  of: ProcessOf,
  readings: Parameters<typeof readProcessLadder>[1],
): Outcome<ProcessLadderReply> {
  const found = readProcessLadder(factor, readings)
  return found.ok
    ? { ok: true, value: { factor, of, unit: FACTORS[factor].unit, ...describeProcess(found.value, readings) } }
    : found
}
