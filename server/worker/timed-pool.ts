import { ServiceError } from '../plugins/errors.js'
import type { PhotoPool } from './photo-pool.js'

/** @param end how the reading ended: `read`, `refused`, or why it failed */
type OnRead = (tookS: number, end: string) => void

/** The same pool, with its readings timed. */
export function timedPool(pool: PhotoPool, onRead: OnRead, nowMs: () => number = () => performance.now()): PhotoPool {
  const read: PhotoPool['read'] = async (...task) => {
    const startedMs = nowMs()
    const ended = (end: string) => onRead((nowMs() - startedMs) / 1000, end)
    try {
      const reading = await pool.read(...task)
      ended('refusal' in reading ? 'refused' : 'read')
      return reading
    } catch (error) {
      ended(error instanceof ServiceError ? error.code : 'failed')
      throw error
    }
  }
  return { ...pool, read }
}
