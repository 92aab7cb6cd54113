import { randomUUID } from 'node:crypto'
import { mkdir, open, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { isPhotoFile, MOST_PIXELS, type ReadLadder } from '../../analysis/index.js'

export interface PictureTask {
  readonly path: string
  /** Where the JPEG of a HEIC photograph is kept once it is made. */
  readonly converted: string
  /** Pixels; a smaller photograph stays as it is. */
  readonly width: number
  /** What was read, for its outlines to be drawn. */
  readonly reading?: ReadLadder
}

/** Panoramas are shorter; a picture of few and endless rows takes a decoder gigabytes. */
const LONGEST_EDGE_PX = 30_000
const QUALITY = 85
const KEPT_QUALITY = 92
const START_BYTES = 12

/** A file from a stranger is not to choose any format that sharp knows. */
async function checkStart(path: string): Promise<void> {
  const file = await open(path)
  try {
    const { buffer } = await file.read(Buffer.alloc(START_BYTES), 0, START_BYTES, 0)
    if (!isPhotoFile(buffer)) throw new TypeError('the file is no photograph')
  } finally {
    await file.close()
  }
}

/** Whether the file is one that sharp knows but cannot decode. */
async function isHeic(path: string): Promise<boolean> {
  const { format, compression, width, height } = await sharp(path, { limitInputPixels: false }).metadata()
  if (width * height > MOST_PIXELS)
    throw new RangeError(`pictures have at most ${MOST_PIXELS} pixels, got ${width} x ${height}`)
  if (Math.max(width, height) > LONGEST_EDGE_PX)
    throw new RangeError(`pictures have at most ${LONGEST_EDGE_PX} pixels a side, got ${width} x ${height}`)
  return format === 'heif' && compression !== 'av1'
}

/** HEIC takes seconds to decode: once, if there is room to keep it. libheif turns the picture upright by itself. */
async function fromHeic(path: string, converted: string): Promise<string | Buffer> {
  if (await stat(converted).catch(() => undefined)) return converted
  const { default: decode } = await import('heic-decode')
  const { width, height, data } = await decode({ buffer: await readFile(path) })
  const raw = { width, height, channels: 4 } as const
  const jpeg = await sharp(data, { raw }).removeAlpha().jpeg({ quality: KEPT_QUALITY }).toBuffer()
  const unfinished = `${converted}.${randomUUID()}.part`
  try {
    await mkdir(dirname(converted), { recursive: true })
    await writeFile(unfinished, jpeg, { flush: true })
    await rename(unfinished, converted)
  } catch {
    await rm(unfinished, { force: true }).catch(() => undefined)
  }
  return jpeg
}

async function withOutlines(picture: Sharp, reading: ReadLadder): Promise<Sharp> {
  const { overlaySvg } = await import('../pictures/overlay-svg.js')
  // Drawn when the picture's size is known, since how its height is rounded is not ours to say.
  const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true })
  return sharp(data, { raw: info }).composite([{ input: Buffer.from(overlaySvg(reading, info)) }])
}

/** A photograph as JPEG for the screen: upright, without the camera's notes; runs in a process of its own. */
export default async function makePicture({ path, converted, width, reading }: PictureTask): Promise<Buffer> {
  await checkStart(path)
  const source = (await isHeic(path)) ? await fromHeic(path, converted) : path
  const upright = sharp(source, { limitInputPixels: MOST_PIXELS, failOn: 'none' })
    .autoOrient()
    .resize({ width, withoutEnlargement: true })
  const picture = reading ? await withOutlines(upright, reading) : upright
  return picture.jpeg({ quality: QUALITY }).toBuffer()
}
