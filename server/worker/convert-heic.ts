import { readFile } from 'node:fs/promises'
import decode from 'heic-decode'
import sharp from 'sharp'

export interface HeicTask {
  readonly path: string
  readonly target: string
}

/** Writes a HEIC photograph as JPEG, upright: libheif turns it by itself. Runs in a worker thread. */
export default async function convertHeic({ path, target }: HeicTask): Promise<void> {
  const { width, height, data } = await decode({ buffer: await readFile(path) })
  await sharp(data, { raw: { width, height, channels: 4 } })
    .removeAlpha()
    .jpeg({ quality: 92 })
    .toFile(target)
}
