import type { PictureMaker } from './pictures/pictures.js'
import type { ServiceMetrics } from './plugins/metrics.js'
import type { Store } from './storage/store.js'
import type { PhotoPool } from './worker/photo-pool.js'
import type { ReadingPace } from './worker/reading-pace.js'
import type { ReadingQueue } from './worker/reading-queue.js'

/** How other machines reach the service, when it is open to them. */
export interface Invitation {
  readonly passphrase: string
  /** Addresses in the network, as they are now. */
  readonly addresses: () => string[]
}

/** What the routes work with. */
export interface Service {
  readonly store: Store
  readonly queue: ReadingQueue
  readonly pictures: PictureMaker
  readonly pool: PhotoPool
  /** How long readings take at the moment. */
  readonly pace: ReadingPace
  readonly metrics: ServiceMetrics
  /** Photographs that may wait to be read. */
  readonly maxWaiting: number
  readonly invitation: Invitation | undefined
}
