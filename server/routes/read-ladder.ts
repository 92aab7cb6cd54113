import type { ReadLadder } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'

/** A stored reading that has rungs; otherwise a failure that says what to do next. */
export async function readLadder({ store }: Service, readingId: string): Promise<ReadLadder> {
  if (!(await store.readings.summary(readingId))) {
    throw new ServiceError(404, 'no-such-reading', `There is no reading ${readingId}.`, 'Look for it in /api/readings.')
  }
  const result = await store.readings.concluded(readingId)
  if (result && 'rungs' in result) return result
  throw new ServiceError(422, 'not-read', `Reading ${readingId} has no rungs.`, 'Wait for it, or photograph again.')
}
