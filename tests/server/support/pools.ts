import type { LadderReading, Stage } from '../../../analysis/index.js'
import extractSetting from '../../../server/worker/extract-setting.js'
import makePicture from '../../../server/worker/make-picture.js'
import type { PhotoPool } from '../../../server/worker/photo-pool.js'

type Read = (path: string, onStage: (stage: Stage) => void) => Promise<LadderReading>

/** A pool that answers at once, in this thread. */
export const poolOf = (read: Read): PhotoPool => ({
  readers: 1,
  read: (path, _options, onStage) => read(path, onStage),
  makePicture,
  extractSetting: (path) => extractSetting({ path }),
  close: () => Promise.resolve(),
})

/** A pool that never comes to an end until it is closed. */
export function endlessPool(): PhotoPool {
  let breakOff = (_reason: Error) => {}
  const never = new Promise<never>((_resolve, reject) => (breakOff = reject))
  never.catch(() => undefined)
  return { ...poolOf(() => never), close: async () => breakOff(new Error('closed')) }
}

/** A pool to which every photograph says the same. */
export const sureOf = (reading: LadderReading): PhotoPool =>
  poolOf((_path, onStage) => {
    onStage({ stage: 'decode', share: 0 })
    return Promise.resolve(reading)
  })
