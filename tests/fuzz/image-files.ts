import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import { uniformDraws } from '../support/random.js'

/** HEIC takes an encoder that no package of ours carries: made once with libheif's heif-enc. */
const heic = () => readFileSync(new URL('./plain.heic', import.meta.url))

/** A picture of every format that is taken, with some texture and a camera's notes in it. */
export async function imageFiles(width: number, height: number): Promise<Buffer[]> {
  const draw = uniformDraws(1)
  const pixels = Buffer.from(Array.from({ length: width * height * 3 }, (_, i) => (i / 97 + 40 * draw()) % 256))
  const picture = () =>
    sharp(pixels, { raw: { width, height, channels: 3 } })
      .withExif({
        IFD0: { Make: 'A camera' },
        IFD2: { FocalLengthIn35mmFilm: '26' },
        IFD3: { GPSLatitude: '47/1 3/1 0/1' },
      })
      .withMetadata({ orientation: 6 })
  const encoded = await Promise.all([
    picture().jpeg({ quality: 60 }).toBuffer(),
    picture().jpeg({ progressive: true, quality: 40 }).withIccProfile('p3').toBuffer(),
    picture().png().toBuffer(),
    picture().webp({ quality: 50 }).toBuffer(),
    picture().webp({ lossless: true }).toBuffer(),
    picture().tiff({ compression: 'lzw' }).toBuffer(),
    picture().tiff({ compression: 'jpeg', tile: true }).toBuffer(),
    picture().avif({ quality: 40, effort: 0 }).toBuffer(),
  ])
  return [...encoded, heic()]
}
