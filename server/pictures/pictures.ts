import { existsSync } from 'node:fs'
import { unlink } from 'node:fs/promises'
import { join } from 'node:path'
import type { ReadLadder } from '../../analysis/index.js'
import { photoMissing, ServiceError } from '../plugins/errors.js'
import type { PhotoPool } from '../worker/photo-pool.js'

const noPicture = (cause: unknown) =>
  new ServiceError(
    422,
    'no-picture',
    'This file cannot be shown as a picture.',
    'Choose a photograph of at most 60 megapixels: JPEG, PNG, WebP, TIFF, AVIF or HEIC.',
    { cause },
  )

/** Photographs as JPEG for the screen: upright, without the camera's notes on place and time. */
export function pictureMaker(folder: string, pool: PhotoPool) {
  return {
    /**
     * @param width pixels; a smaller photograph stays as it is
     * @param reading what was read, for its outlines to be drawn
     */
    async jpeg(path: string, photoId: string, width: number, reading?: ReadLadder): Promise<Buffer> {
      const task = { path, converted: join(folder, `${photoId}.jpg`), width, ...(reading && { reading }) }
      if (!existsSync(path)) throw photoMissing()
      const once = () =>
        pool.makePicture(task).catch((error: unknown) => {
          throw error instanceof ServiceError ? error : noPicture(error)
        })
      return once().catch(async (error: ServiceError) => {
        // What was converted may have been damaged since: then it is made anew.
        if (error.code !== 'no-picture' || !existsSync(task.converted)) throw error
        await unlink(task.converted)
        return once()
      })
    },
  }
}
export type PictureMaker = ReturnType<typeof pictureMaker>
