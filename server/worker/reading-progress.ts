import { EventEmitter, on } from 'node:events'
import type { Stage } from '../../analysis/index.js'
import type { ReadingProgress } from '../api/readings.js'
import type { Store } from '../storage/store.js'

const ended = ({ state }: ReadingProgress) => state === 'done' || state === 'failed'

/** Tells those who follow a reading how it gets on, until `closing` aborts. */
export function readingProgress({ readings }: Pick<Store, 'readings'>, closing: AbortSignal) {
  const told = new EventEmitter().setMaxListeners(0)
  const stages = new Map<string, Stage>()

  async function now(readingId: string): Promise<ReadingProgress | undefined> {
    const reading = await readings.get(readingId)
    if (!reading) return undefined
    const { state, failure } = reading
    const progress: ReadingProgress = { state, share: 0, ...stages.get(readingId), ...(failure && { failure }) }
    return ended(progress) ? { ...progress, share: 1 } : progress
  }

  function tell(readingId: string, progress: ReadingProgress): void {
    const { stage, share } = progress
    if (stage) stages.set(readingId, { stage, share })
    else stages.delete(readingId)
    told.emit(readingId, progress)
  }

  /** Looks after the readings that are followed, for when word of an end was lost on the way. */
  async function lookAgain(): Promise<void> {
    for (const readingId of told.eventNames() as string[]) {
      const progress = await now(readingId)
      if (progress && ended(progress)) tell(readingId, progress)
    }
  }

  /** Where a reading stands, then every change until it has ended, the signal aborts or the queue closes. */
  async function* follow(readingId: string, signal: AbortSignal): AsyncGenerator<ReadingProgress> {
    const until = AbortSignal.any([signal, closing])
    if (until.aborted) return
    const changes = on(told, readingId, { signal: until }) as AsyncIterableIterator<[ReadingProgress]>
    try {
      const first = await now(readingId)
      if (!first) return
      yield first
      if (ended(first)) return
      for await (const [change] of changes) {
        yield change
        if (ended(change)) return
      }
    } catch (error) {
      if (!until.aborted) throw error
    } finally {
      await changes.return?.()
    }
  }

  return { tell, lookAgain, follow }
}
