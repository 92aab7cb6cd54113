import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { onTestFinished } from 'vitest'
import type { LadderReading, Stage } from '../../../analysis/index.js'
import type { PhotoAccepted, ReadingReply } from '../../../server/api/readings.js'
import { buildApp, type AppOptions } from '../../../server/app.js'
import type { PhotoPool } from '../../../server/worker/photo-pool.js'
import { madeUpReading } from './made-up-reading.js'

/** A folder that is gone after the test. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

type Read = (path: string, onStage: (stage: Stage) => void) => Promise<LadderReading>

/** A pool that answers at once, in this thread. */
export const poolOf = (read: Read): PhotoPool => ({
  threads: 1,
  read: (path, _options, onStage) => read(path, onStage),
  convertHeic: () => Promise.reject(new Error('no HEIC here')),
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

/** A service of its own that is closed after the test. Default reader: one with a made-up result. */
export async function startService(options: Partial<AppOptions> = {}) {
  const dataFolder = options.dataFolder ?? scratchFolder()
  const app = await buildApp({ pool: sureOf(madeUpReading), ...options, dataFolder })
  onTestFinished(() => app.close())

  const get = (url: string) => app.inject({ url, headers: { host: 'localhost' } })
  const post = (url: string, payload?: object) =>
    app.inject({ method: 'POST', url, headers: { host: 'localhost' }, ...(payload && { payload }) })
  return {
    app,
    dataFolder,
    get,
    post,

    upload: (photo: Uint8Array | undefined, fields: Record<string, string> = {}, name = 'bench.png') => {
      const form = new FormData()
      for (const [field, value] of Object.entries(fields)) form.set(field, value)
      if (photo) form.set('photo', new Blob([new Uint8Array(photo)]), name)
      return post('/api/photos', form)
    },

    /** Waits for the end of a reading. */
    async ended({ readingId }: PhotoAccepted): Promise<ReadingReply> {
      await get(`/api/readings/${readingId}/progress`)
      return (await get(`/api/readings/${readingId}`)).json<ReadingReply>()
    },

    /** Every photograph on the disk, kept or half received. */
    storedFiles: () => ['photos', 'incoming'].flatMap((folder) => readdirSync(join(dataFolder, folder))),
  }
}

/** A picture of 1200 x 900 pixels in one colour. */
export const plainPhoto = (background = '#a0a0a0'): Promise<Buffer> =>
  sharp({ create: { width: 1200, height: 900, channels: 3, background } })
    .png()
    .toBuffer()
