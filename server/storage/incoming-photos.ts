import { createHash, randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { Readable } from 'node:stream'
import type { Database } from './tables.js'

/** A photograph on the disk that is not yet kept. */
export interface ReceivedPhoto {
  readonly photoId: string
  readonly bytes: number
  readonly file: string
}

/** Makes the folder for what is being received. It may be gone: the disk was away when the service started. */
export const makeIncoming = (folder: string) =>
  mkdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error
  })

/** Takes photographs in, each as a file of a folder. */
export function incomingPhotos(folder: string) {
  /** Writes a stream to the disk. When the stream breaks off, nothing is left of it. */
  async function receive(stream: Readable): Promise<ReceivedPhoto> {
    const file = join(folder, randomUUID())
    const hash = createHash('sha256')
    let bytes = 0
    await makeIncoming(folder)
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
    receive,
    receiveFile: (path: string) => receive(createReadStream(path)),
    discard: ({ file }: ReceivedPhoto) => rm(file, { force: true }),
  }
}

/** Photographs kept exactly as they came, by their SHA-256. */
export interface PhotoKeep extends ReturnType<typeof incomingPhotos> {
  /**
   * Keeps a received photograph, before it is recorded. One that is there already is replaced by the same bytes: it may
   * have been damaged.
   */
  readonly keep: (received: ReceivedPhoto, extension: string) => Promise<void>
  /** Keeps it in the transaction that records it, where its bytes are in the database. */
  readonly keepWithRecord: (received: ReceivedPhoto, change: Database) => Promise<void>
  /** Whether its bytes are there. */
  readonly has: (photoId: string, extension: string) => Promise<boolean>
  /**
   * Does something with the file of a kept photograph, which may be gone afterwards.
   *
   * @throws {ServiceError} if its bytes are missing
   */
  readonly use: <T>(photoId: string, extension: string, work: (path: string) => Promise<T>) => Promise<T>
  /** A kept photograph in pieces. */
  readonly chunks: (photoId: string, extension: string) => AsyncIterable<Uint8Array>
  /** Tries whether something can be written. @throws what the system says against it */
  readonly tryWriting: () => Promise<void>
}
