import { randomUUID } from 'node:crypto'
import { createReadStream, existsSync } from 'node:fs'
import { rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { photoMissing } from '../plugins/errors.js'
import type { dataFiles } from './data-files.js'
import { incomingPhotos, makeIncoming, type PhotoKeep } from './incoming-photos.js'
import { syncFolder } from './sync-folder.js'

/** More than a file system keeps within its tables. */
const TRIAL = Buffer.alloc(16_384)

/** The photographs of a data folder: files named by their SHA-256. */
export function photoFiles({ photos: kept, incoming }: ReturnType<typeof dataFiles>): PhotoKeep {
  const pathOf = (photoId: string, extension: string) => join(kept, `${photoId}.${extension}`)

  return {
    ...incomingPhotos(incoming),

    async keep({ photoId, file }, extension) {
      await rename(file, pathOf(photoId, extension))
      await syncFolder(kept)
    },
    keepWithRecord: () => Promise.resolve(),

    async tryWriting() {
      await makeIncoming(incoming)
      const file = join(incoming, randomUUID())
      await writeFile(file, TRIAL).finally(() => rm(file, { force: true }))
    },

    async use(photoId, extension, work) {
      const path = pathOf(photoId, extension)
      if (!existsSync(path)) throw photoMissing()
      return work(path)
    },

    has: (photoId, extension) => Promise.resolve(existsSync(pathOf(photoId, extension))),
    chunks: (photoId, extension) => createReadStream(pathOf(photoId, extension)),
  }
}
