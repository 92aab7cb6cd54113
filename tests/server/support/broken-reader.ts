import { basename } from 'node:path'
import type { LadderReading, Stage } from '../../../analysis/index.js'
import type { PhotoTask } from '../../../server/worker/read-photo.js'
import { madeUpReading } from './made-up-reading.js'

/** Breaks in the way that the file's name says. */
export default async function readPhoto({ path }: PhotoTask, tell: (stage: Stage) => void): Promise<LadderReading> {
  tell({ stage: 'decode', share: 0 })
  switch (basename(path)) {
    case 'throws':
      throw new Error('secret')
    case 'exits':
      return process.exit(3)
    case 'crashes':
      // What a fault in a library written in C ends with.
      process.kill(process.pid, 'SIGSEGV')
      break
    case 'hangs':
      for (;;);
    case 'fills-heap': {
      const kept: object[] = []
      for (;;) kept.push({ filled: Array.from({ length: 1000 }, (_, i) => ({ i })) })
    }
    case 'fills-memory': {
      const kept: Buffer[] = []
      for (;;) {
        kept.push(Buffer.alloc(10e6, 1))
        await new Promise((resolve) => setTimeout(resolve, 10))
      }
    }
    case 'tells-surroundings':
      throw new Error(JSON.stringify(process.env))
  }
  return madeUpReading
}
