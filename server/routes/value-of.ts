import type { Outcome } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'

/** The value, or the refusal as a failure that says what to do next. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  const { code, advice, detail } = outcome.refusal
  throw new ServiceError(422, code, detail ?? code, advice)
}
