import { randomUUID } from 'node:crypto'
import { mkdir, rename, stat } from 'node:fs/promises'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import type { ReadLadder } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'
import type { PhotoPool } from '../worker/photo-pool.js'

const MOST_PIXELS = 60_000_000
const QUALITY = 85

/** Whether the file is one that sharp knows but cannot decode. */
async function isHeic(path: string): Promise<boolean> {
  const { format, compression, width, height } = await sharp(path, { limitInputPixels: false }).metadata()
  if (width * height > MOST_PIXELS)
    throw new RangeError(`pictures have at most ${MOST_PIXELS} pixels, got ${width} x ${height}`)
  return format === 'heif' && compression !== 'av1'
}

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
  /** HEIC takes seconds to decode: once, in a worker thread. */
  async function fromHeic(path: string, photoId: string): Promise<string> {
    const made = join(folder, `${photoId}.jpg`)
    const found = await stat(made).catch(() => undefined)
    if (found) return made
    await mkdir(folder, { recursive: true })
    const unfinished = join(folder, `${randomUUID()}.part`)
    await pool.convertHeic(path, unfinished)
    await rename(unfinished, made)
    return made
  }

  async function upright(path: string, photoId: string, width: number): Promise<Sharp> {
    const source = (await isHeic(path)) ? await fromHeic(path, photoId) : path
    return sharp(source, { limitInputPixels: MOST_PIXELS, failOn: 'none' })
      .autoOrient()
      .resize({ width, withoutEnlargement: true })
  }

  return {
    /** @param width pixels; a smaller photograph stays as it is */
    async photo(path: string, photoId: string, width: number): Promise<Buffer> {
      try {
        return await (await upright(path, photoId, width)).jpeg({ quality: QUALITY }).toBuffer()
      } catch (error) {
        throw noPicture(error)
      }
    },

    /** The photograph with the outlines of what was read drawn into it. */
    async overlay(path: string, photoId: string, width: number, reading: ReadLadder): Promise<Buffer> {
      try {
        const { overlaySvg } = await import('./overlay-svg.js')
        const picture = await upright(path, photoId, width)
        // Drawn when the picture's size is known, since how its height is rounded is not ours to say.
        const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true })
        return await sharp(data, { raw: info })
          .composite([{ input: Buffer.from(overlaySvg(reading, info)) }])
          .jpeg({ quality: QUALITY })
          .toBuffer()
      } catch (error) {
        throw noPicture(error)
      }
    },
  }
}
export type PictureMaker = ReturnType<typeof pictureMaker>
