import { createHash, randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open, rename, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Readable } from 'node:stream'

/** A photograph on the disk that is not yet kept. */
export interface ReceivedPhoto {
  readonly photoId: string
  readonly bytes: number
  readonly file: string
}

/** A name is on the disk only when its folder is, too. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

const exists = (file: string) =>
  stat(file).then(
    () => true,
    () => false,
  )

/** The photographs of a data folder: kept exactly as they came, named by their SHA-256. */
export async function openPhotoFiles(folder: string) {
  const kept = join(folder, 'photos')
  const incoming = join(folder, 'incoming')
  // What lies here was being received when the process ended, and nobody was told that it arrived.
  await rm(incoming, { recursive: true, force: true })
  await mkdir(incoming, { recursive: true })
  await mkdir(kept, { recursive: true })

  const pathOf = (photoId: string, extension: string) => join(kept, `${photoId}.${extension}`)

  /** Writes a stream to the disk. When the stream breaks off, nothing is left of it. */
  async function receive(stream: Readable): Promise<ReceivedPhoto> {
    const file = join(incoming, randomUUID())
    const hash = createHash('sha256')
    let bytes = 0
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

    /** Gives a received photograph its final name. One that is there already is left as it is. */
    async keep({ photoId, file }: ReceivedPhoto, extension: string): Promise<void> {
      const path = pathOf(photoId, extension)
      if (await exists(path)) return
      await rename(file, path)
      await syncFolder(kept)
    },

    discard: ({ file }: ReceivedPhoto) => rm(file, { force: true }),
  }
}
