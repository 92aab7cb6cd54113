import sharp from 'sharp'
import type { FileOptions } from './options.js'

/** Clockwise turn of the stored pixels that each EXIF orientation undoes. */
const STORED_TURN_DEG = { 1: 0, 3: 180, 6: 270, 8: 90 } as const

/** RGB bytes of the upright frame to a file. */
export async function encodeFile(
  rgb: Uint8Array,
  { width, height }: { width: number; height: number },
  { format, quality, subsampling, orientation }: Required<FileOptions>,
): Promise<Buffer> {
  if (format === 'raw') return Buffer.from(rgb.buffer, rgb.byteOffset, rgb.byteLength)
  let image = sharp(rgb, { raw: { width, height, channels: 3 } })
  if (orientation !== 1) image = image.rotate(STORED_TURN_DEG[orientation]).withMetadata({ orientation })
  return format === 'png'
    ? image.png({ compressionLevel: 3 }).toBuffer()
    : image.jpeg({ quality, chromaSubsampling: subsampling }).toBuffer()
}
