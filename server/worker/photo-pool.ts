import { MessageChannel } from 'node:worker_threads'
import { Piscina } from 'piscina'
import type { LadderReading, MeasureOptions, Stage } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'
import type { HeicTask } from './convert-heic.js'
import type { ExtractTask, Extracted } from './extract-setting.js'
import type { PhotoTask } from './read-photo.js'

export interface PoolOptions {
  /** Photographs read at the same time. Default: 1. */
  readonly threads?: number
  /** What one photograph may take before its thread is ended. Default: 60 s. */
  readonly timeLimitMs?: number
  /** What the JavaScript objects of one thread may fill. Default: 1024 MB. */
  readonly heapMb?: number
  /** Module whose default export does a `PhotoTask`. Default: the reader. */
  readonly workerFile?: URL
}

export interface PhotoPool {
  readonly threads: number
  /** @throws {ServiceError} if the thread ended or took too long; the pool goes on with a new one */
  read(path: string, options: Partial<MeasureOptions>, onStage: (stage: Stage) => void): Promise<LadderReading>
  /** Writes a HEIC file as JPEG. */
  convertHeic(path: string, target: string): Promise<void>
  /** Takes out of a file what may be a setting sheet. */
  extractSetting(path: string): Promise<Extracted>
  close(): Promise<void>
}

const IDLE_MS = 10 * 60_000
/** Pictures to convert; readings wait in the store. */
const MAX_QUEUE = 50
const fromSource = import.meta.url.endsWith('.ts')
const beside = (name: string) => new URL(`./${name}.${fromSource ? 'ts' : 'js'}`, import.meta.url)

const ADVICE = 'Take a new photograph, or save this one as JPEG and upload it again.'

function failure(cause: unknown, timeLimitMs: number): ServiceError {
  const { name = '', code = '' } = cause as { name?: string; code?: string }
  const because = (reason: string, message: string) => new ServiceError(500, reason, message, ADVICE, { cause })
  if (name === 'AbortError' || name === 'TimeoutError')
    return because('took-too-long', `Reading this photograph took longer than ${timeLimitMs / 1000} s.`)
  if (code === 'ERR_WORKER_OUT_OF_MEMORY')
    return because('too-much-memory', 'Reading this photograph needed too much memory.')
  return because('reader-ended', 'The reader broke off at this photograph.')
}

type RunOptions = Parameters<Piscina['run']>[1]

/** Worker threads for the pixels, so that no photograph holds up a request. */
export function openPhotoPool(options: PoolOptions = {}): PhotoPool {
  const { threads = 1, timeLimitMs = 60_000, heapMb = 1024, workerFile = beside('read-photo') } = options
  const pool = new Piscina<PhotoTask | HeicTask | ExtractTask, unknown>({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: threads,
    maxQueue: MAX_QUEUE,
    // A thread's memory grows with its largest photograph, and only its end gives that back.
    idleTimeout: IDLE_MS,
    resourceLimits: { maxOldGenerationSizeMb: heapMb },
    ...(workerFile.href.endsWith('.ts') && { execArgv: ['--import', import.meta.resolve('tsx')] }),
  })
  async function run<Result>(task: PhotoTask | HeicTask | ExtractTask, options: RunOptions = {}): Promise<Result> {
    try {
      return (await pool.run(task, { ...options, signal: AbortSignal.timeout(timeLimitMs) })) as Result
    } catch (cause) {
      throw failure(cause, timeLimitMs)
    }
  }
  return {
    threads,
    async read(path, options, onStage) {
      const { port1: told, port2: progress } = new MessageChannel()
      told.on('message', onStage)
      try {
        return await run<LadderReading>({ path, options, progress }, { transferList: [progress] })
      } finally {
        told.close()
      }
    },
    extractSetting: (path) => run({ path }, { filename: beside('extract-setting').href }),
    convertHeic: (path, target) => run({ path, target }, { filename: beside('convert-heic').href }),
    close: () => pool.destroy(),
  }
}
