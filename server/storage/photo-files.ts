import { createHash, randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Readable } from 'node:stream'
import type { dataFiles } from './data-files.js'
import { syncFolder } from './sync-folder.js'

/** A photograph on the disk that is not yet kept. */
export interface ReceivedPhoto {
  readonly photoId: string
  readonly bytes: number
  readonly file: string
}

/** More than a file system keeps within its tables. */
const TRIAL = Buffer.alloc(16_384)

/** The photographs of a data folder: kept exactly as they came, named by their SHA-256. */
export function photoFiles({ photos: kept, incoming }: ReturnType<typeof dataFiles>) {
  const pathOf = (photoId: string, extension: string) => join(kept, `${photoId}.${extension}`)

  const makeIncoming = () =>
    mkdir(incoming).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'EEXIST') throw error
    })

  /** Writes a stream to the disk. When the stream breaks off, nothing is left of it. */
  async function receive(stream: Readable): Promise<ReceivedPhoto> {
    const file = join(incoming, randomUUID())
    const hash = createHash('sha256')
    let bytes = 0
    await makeIncoming()
    const handle = await open(file, 'wx')
    try {
      for await (const chunk of stream as AsyncIterable<Buffer>) {
        hash.update(chunk)
        bytes += chunk.length
        await handle.writeFile(chunk)
      }
      await handle.sync()
      await handle.close()
    } catch (error) {
      await handle.close()
      await rm(file, { force: true })
      throw error
    }
    return { photoId: hash.digest('hex'), bytes, file }
  }

  return {
    pathOf,
    receive,
    receiveFile: (path: string) => receive(createReadStream(path)),

    /**
     * Gives a received photograph its final name. One that is there already is replaced by the same bytes: it may have
     * been damaged, or its name not be on the disk yet.
     */
    async keep({ photoId, file }: ReceivedPhoto, extension: string): Promise<void> {
      await rename(file, pathOf(photoId, extension))
      await syncFolder(kept)
    },

    /** Tries whether a file can be written. @throws what the system says against it */
    async tryWriting(): Promise<void> {
      await makeIncoming()
      const file = join(incoming, randomUUID())
      await writeFile(file, TRIAL).finally(() => rm(file, { force: true }))
    },

    discard: ({ file }: ReceivedPhoto) => rm(file, { force: true }),
  }
}
