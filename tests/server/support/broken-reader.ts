import { basename } from 'node:path'
import type { LadderReading } from '../../../analysis/index.js'
import type { PhotoTask } from '../../../server/worker/read-photo.js'
import { madeUpReading } from './made-up-reading.js'

/** Breaks in the way that the file's name says. */
export default async function readPhoto({ path, progress }: PhotoTask): Promise<LadderReading> {
  progress.postMessage({ stage: 'decode', share: 0 })
  switch (basename(path)) {
    case 'throws':
      throw new Error('secret')
    case 'exits':
      return process.exit(3)
    case 'hangs':
      for (;;);
    case 'fills-memory': {
      const kept: object[] = []
      for (;;) kept.push({ filled: Array.from({ length: 1000 }, (_, i) => ({ i })) })
    }
  }
  return madeUpReading
}
