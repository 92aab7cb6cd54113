import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { describe, expect, it } from 'vitest'
import { decodePhoto, type Photo } from '../../../analysis/image/decode.js'

const WIDTH = 1200
const HEIGHT = 960
const COLOURS = [
  [205, 60, 52],
  [60, 170, 70],
  [50, 70, 190],
  [225, 220, 210],
] as const

/** Four colours in the four quarters: no two orientations look alike. */
const upright = Buffer.alloc(WIDTH * HEIGHT * 3)
for (let row = 0; row < HEIGHT; row++)
  for (let column = 0; column < WIDTH; column++)
    upright.set(COLOURS[2 * Number(row >= HEIGHT / 2) + Number(column >= WIDTH / 2)] ?? [], 3 * (row * WIDTH + column))
const picture = () => sharp(upright, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })

async function decoded(file: Uint8Array): Promise<Photo> {
  const outcome = await decodePhoto(file)
  if (!outcome.ok) throw new Error(outcome.refusal.code)
  return outcome.value
}

/** Largest difference of a channel from what was drawn, in the middle of each quarter. */
function farthest({ width, height, rgb }: Photo): number {
  expect([width, height]).toEqual([WIDTH, HEIGHT])
  const differences = COLOURS.flatMap((colour, i) => {
    const at = 3 * (Math.round(height * (i < 2 ? 0.25 : 0.75)) * width + Math.round(width * (i % 2 ? 0.75 : 0.25)))
    return colour.map((value, channel) => Math.abs(value - (rgb[at + channel] ?? NaN)))
  })
  return Math.max(...differences)
}

describe('every kind of file', () => {
  it.each([
    ['JPEG', () => picture().jpeg({ quality: 90 })],
    ['progressive JPEG', () => picture().jpeg({ quality: 90, progressive: true, chromaSubsampling: '4:4:4' })],
    ['PNG', () => picture().png()],
    ['PNG of 16 bits', () => picture().toColourspace('rgb16').png()],
    ['PNG with transparency', () => picture().ensureAlpha(0.999).png()],
    ['WebP', () => picture().webp({ quality: 90 })],
    ['TIFF', () => picture().tiff({ compression: 'lzw' })],
    ['TIFF with a Display P3 profile', () => picture().withIccProfile('p3').tiff({ compression: 'lzw' })],
    ['JPEG with a Display P3 profile', () => picture().withIccProfile('p3').jpeg({ quality: 95 })],
    ['AVIF', () => picture().avif({ quality: 80, effort: 1 })],
  ] as const)('%s gives the colours that were drawn', async (_, make) => {
    // Lossy coding and a table-made profile cost some codes; a P3 file taken for sRGB would be off by 20 and more.
    expect(farthest(await decoded(await make().toBuffer()))).toBeLessThan(6)
  })

  it('a grey picture is spread to three channels', async () => {
    const { rgb, width, height } = await decoded(await picture().greyscale().jpeg().toBuffer())
    expect(rgb.length).toBe(3 * width * height)
    expect(rgb[0]).toBe(rgb[1])
  })
})

describe('the eight EXIF orientations', () => {
  // How the stored pixels come from the upright ones: the inverse of what TIFF 6.0 (tag 274) asks of the reader.
  const turn = (degrees: number) => (raw: Raw) => apply(raw, (image) => image.rotate(degrees))
  const flop = (raw: Raw) => apply(raw, (image) => image.flop())
  const flip = (raw: Raw) => apply(raw, (image) => image.flip())
  const stored: Readonly<Record<number, readonly ((raw: Raw) => Promise<Raw>)[]>> = {
    1: [],
    2: [flop],
    3: [turn(180)],
    4: [flip],
    5: [turn(90), flop],
    6: [turn(270)],
    7: [turn(270), flop],
    8: [turn(90)],
  }
  interface Raw {
    readonly data: Buffer
    readonly width: number
    readonly height: number
  }
  async function apply({ data, width, height }: Raw, change: (image: Sharp) => Sharp): Promise<Raw> {
    const { data: changed, info } = await change(sharp(data, { raw: { width, height, channels: 3 } }))
      .raw()
      .toBuffer({ resolveWithObject: true })
    return { data: changed, width: info.width, height: info.height }
  }

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('orientation %i comes out upright', async (orientation) => {
    let raw: Raw = { data: upright, width: WIDTH, height: HEIGHT }
    for (const step of stored[orientation] ?? []) raw = await step(raw)
    const { data, width, height } = raw
    const file = await sharp(data, { raw: { width, height, channels: 3 } })
      .withMetadata({ orientation })
      .png()
      .toBuffer()
    expect(farthest(await decoded(file))).toBe(0)
  })
})

it('takes no format of which a file can ask for others, though the decoder knows it', async () => {
  const svg = Buffer.from(
    '<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="1000"><rect width="9" height="9"/></svg>',
  )
  const gif = await picture().gif().toBuffer()
  for (const bytes of [svg, Buffer.from(`\n${svg}`), gif])
    expect(await decodePhoto(bytes)).toMatchObject({ ok: false, refusal: { code: 'not-an-image' } })
})

// Encoding HEIC takes x265, which no package of ours carries: Debian's libheif-examples has it.
const canEncodeHeic = /x265/.test(spawnSync('heif-enc', ['--list-encoders'], { encoding: 'utf8' }).stdout ?? '')
describe.skipIf(!canEncodeHeic)('HEIC, where heif-enc of libheif-examples is installed', () => {
  it.each(['srgb', 'p3'])('with a profile of %s gives the colours that were drawn', async (profile) => {
    const folder = mkdtempSync(join(tmpdir(), 'stepglass-heic-'))
    try {
      await picture().withIccProfile(profile).png().toFile(join(folder, 'in.png'))
      const { status, stderr } = spawnSync(
        'heif-enc',
        ['-q', '95', join(folder, 'in.png'), '-o', join(folder, 'out.heic')],
        { encoding: 'utf8' },
      )
      expect(status, stderr).toBe(0)
      expect(farthest(await decoded(readFileSync(join(folder, 'out.heic'))))).toBeLessThan(6)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})
