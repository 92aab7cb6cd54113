import type { LadderReading, MeasureOptions, Stage } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'
import type { ExtractTask, Extracted } from './extract-setting.js'
import type { PictureTask } from './make-picture.js'
import { openProcessPool, TaskError } from './process-pool.js'
import type { PhotoTask } from './read-photo.js'

export interface PoolOptions {
  /** Photographs read at the same time. Default: 1. */
  readonly readers?: number
  /** What one photograph may take before its reader is killed. Default: 60 s. */
  readonly timeLimitMs?: number
  /** What the JavaScript objects of one reader may fill. Default: 1024 MB. */
  readonly heapMb?: number
  /** What one reader may fill altogether. Default: 2048 MB. */
  readonly memoryMb?: number
  /** Module whose default export does a `PhotoTask`. Default: the reader. */
  readonly readerFile?: URL
}

export interface PhotoPool {
  /** Photographs read at the same time. */
  readonly readers: number
  /** @throws {ServiceError} if the reader ended or took too long; the pool goes on with a new one */
  read(path: string, options: Partial<MeasureOptions>, onStage: (stage: Stage) => void): Promise<LadderReading>
  /** A photograph as JPEG. @throws {TaskError} if the file gives none, {ServiceError} if too much is asked at once */
  makePicture(task: PictureTask): Promise<Buffer>
  /** Takes out of a file what may be a setting sheet. @throws {ServiceError} if the reader ended or took too long */
  extractSetting(path: string): Promise<Extracted>
  close(): Promise<void>
}

/** Pictures and sheets; readings wait in the store. */
const MAX_WAITING = 50
const fromSource = import.meta.url.endsWith('.ts')
const beside = (name: string) => new URL(`./${name}.${fromSource ? 'ts' : 'js'}`, import.meta.url)

const ADVICE = 'Take a new photograph, or save this one as JPEG and upload it again.'

function failure(cause: unknown, timeLimitMs: number): ServiceError {
  const reason = cause instanceof TaskError ? cause.reason : undefined
  const because = (code: string, message: string) => new ServiceError(500, code, message, ADVICE, { cause })
  if (reason === 'busy')
    return new ServiceError(503, 'busy', 'Too much is being read at the moment.', 'Try again in a minute.', { cause })
  if (reason === 'took-too-long')
    return because('took-too-long', `Reading this photograph took longer than ${timeLimitMs / 1000} s.`)
  if (reason === 'too-much-memory') return because('too-much-memory', 'Reading this photograph needed too much memory.')
  return because('reader-ended', 'The reader broke off at this photograph.')
}

/** Processes for the pixels: no photograph holds up a request, and none that ends its reader ends the service. */
export function openPhotoPool(options: PoolOptions = {}): PhotoPool {
  const { readers = 1, timeLimitMs = 60_000, heapMb = 1024, memoryMb = 2048 } = options
  const { readerFile = beside('read-photo') } = options
  const limits = { timeLimitMs, heapMb, memoryMb, maxWaiting: MAX_WAITING }
  const reading = openProcessPool({ ...limits, processes: readers })
  // Whoever looks at a picture does not wait for the readings before it.
  const showing = openProcessPool({ ...limits, processes: 1 })
  const told = (cause: unknown) => {
    throw failure(cause, timeLimitMs)
  }
  return {
    readers,
    read: (path, options, onStage) => {
      const task: PhotoTask = { path, options }
      return reading.run<LadderReading>(readerFile, task, (stage) => onStage(stage as Stage)).catch(told)
    },
    extractSetting: (path) => {
      const task: ExtractTask = { path }
      return showing.run<Extracted>(beside('extract-setting'), task).catch(told)
    },
    makePicture: (task) =>
      showing.run<Buffer>(beside('make-picture'), task).catch((cause: unknown) => {
        throw cause instanceof TaskError && cause.reason === 'busy' ? failure(cause, timeLimitMs) : cause
      }),
    async close() {
      await Promise.all([reading.close(), showing.close()])
    },
  }
}
