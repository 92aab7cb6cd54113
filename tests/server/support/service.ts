import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import sharp from 'sharp'
import { onTestFinished } from 'vitest'
import type { PhotoAccepted, ReadingReply } from '../../../server/api/readings.js'
import { buildApp, type AppOptions } from '../../../server/app.js'
import { databaseOf } from './database.js'
import { madeUpReading } from './made-up-reading.js'
import { sureOf } from './pools.js'

/** A folder that is gone after the test. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A service of its own that is closed after the test. Default reader: one with a made-up result. */
export async function startService(options: Partial<AppOptions> = {}) {
  const dataFolder = options.dataFolder ?? scratchFolder()
  const databaseUrl = await databaseOf(dataFolder)
  const place = databaseUrl === undefined ? {} : { databaseUrl, sharing: { lostAfterMs: 2000 } }
  const app = await buildApp({ pool: sureOf(madeUpReading), ...place, ...options, dataFolder })
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
    ended: async ({ readingId }: PhotoAccepted): Promise<ReadingReply> => {
      await get(`/api/readings/${readingId}/progress`)
      return (await get(`/api/readings/${readingId}`)).json<ReadingReply>()
    },

    /** Every photograph there is, kept or half received. */
    storedFiles: async (): Promise<string[]> => {
      const { shared, previews } = app.service.store
      const listed = (folder: string) => (existsSync(folder) ? readdirSync(folder) : [])
      if (!shared) return ['photos', 'incoming'].flatMap((folder) => listed(join(dataFolder, folder)))
      const kept = await shared.query<{ photo_id: string }>('select distinct photo_id from photo_parts')
      return [...kept.rows.map((row) => row.photo_id), ...listed(join(dirname(previews), 'incoming'))]
    },

    /** The bytes of a photograph that is kept. */
    keptPhoto: (photoId: string) => app.service.store.usePhoto(photoId, (path) => readFile(path)),
  }
}

/** A picture of 1200 x 900 pixels in one colour. */
export const plainPhoto = (background = '#a0a0a0'): Promise<Buffer> =>
  sharp({ create: { width: 1200, height: 900, channels: 3, background } })
    .png()
    .toBuffer()
