import exifReader from 'exif-reader'
import sharp, { type Metadata } from 'sharp'
import { refuse, type Outcome } from '../outcome.js'
import { isPhotoFile } from './is-photo-file.js'
import { taggedTiff } from './tagged-tiff.js'

/** A decoded photograph, upright: rows from the top, three 8-bit channels a pixel, as the camera encoded them. */
export interface Photo {
  readonly width: number
  readonly height: number
  /** Shape (height, width, 3), R G B, not linear. */
  readonly rgb: Uint8Array
  /** Focal length in pixels from the file's own data, when it says. */
  readonly focalPx?: number
}

const SMALLEST_EDGE_PX = 900
/** Larger files are refused before a pixel is decoded. */
export const MOST_PIXELS = 60_000_000

/**
 * Pixels of a JPEG, PNG, WebP, TIFF, AVIF or HEIC file, turned upright.
 *
 * Files come from strangers: size is judged from the header, before a pixel is decoded.
 *
 * @param bytes the file
 * @param meanwhile what this thread may do while another one decodes
 * @param leastEdgePx shorter edge of the smallest picture that is taken; the default is what a card needs
 * @returns the photograph, or a refusal: `not-an-image`, `too-many-pixels`, `too-few-pixels`, `damaged-image`
 */
export async function decodePhoto(
  bytes: Uint8Array,
  meanwhile: () => void = () => undefined,
  leastEdgePx = SMALLEST_EDGE_PX,
): Promise<Outcome<Photo>> {
  const noPhoto = refuse('not-an-image', 'Choose a photograph: JPEG, PNG, WebP, TIFF, AVIF or HEIC.')
  if (!isPhotoFile(bytes)) return noPhoto
  let metadata: Metadata
  try {
    metadata = await sharp(bytes, { limitInputPixels: false }).metadata()
  } catch {
    return noPhoto
  }
  const { width, height } = metadata
  if (width * height > MOST_PIXELS)
    return refuse(
      'too-many-pixels',
      'Send the photograph at 50 megapixels or less.',
      `${width} x ${height} pixels, at most ${MOST_PIXELS / 1e6} million`,
    )
  if (Math.min(width, height) < leastEdgePx)
    return refuse(
      'too-few-pixels',
      'Send the original photograph, not a preview or a message copy.',
      `${width} x ${height} pixels, shorter edge at least ${leastEdgePx}`,
    )
  try {
    const decoded = isHeic(metadata) ? await decodeHeic(bytes, metadata.icc) : await decodeWithSharp(bytes, meanwhile)
    const focalPx = focalLengthPx(metadata, Math.hypot(decoded.width, decoded.height))
    return { ok: true, value: focalPx === undefined ? decoded : { ...decoded, focalPx } }
  } catch {
    return refuse('damaged-image', 'The file is cut off or damaged: send it again from the camera.')
  }
}

const isHeic = ({ format, compression }: Metadata): boolean => format === 'heif' && compression !== 'av1'

async function decodeWithSharp(bytes: Uint8Array, meanwhile: () => void): Promise<Photo> {
  const decoding = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'truncated' })
    .autoOrient()
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true })
  meanwhile()
  const { data, info } = await decoding
  if (info.channels === 1) return { width: info.width, height: info.height, rgb: spreadGrey(data) }
  return { width: info.width, height: info.height, rgb: data }
}

function spreadGrey(grey: Uint8Array): Uint8Array {
  const rgb = new Uint8Array(grey.length * 3)
  for (let i = 0; i < grey.length; i++) rgb.fill(grey[i] ?? 0, 3 * i, 3 * i + 3)
  return rgb
}

/**
 * HEIC by libheif, which turns the picture upright by itself but leaves its profile to us: phones store Display P3.
 * Loaded only when such a file comes.
 */
async function decodeHeic(bytes: Uint8Array, profile: Uint8Array | undefined): Promise<Photo> {
  const { default: decode } = await import('heic-decode')
  const { width, height, data } = await decode({ buffer: bytes })
  const fill = (rgb: Uint8Array) => {
    for (let from = 0, to = 0; from < data.length; from += 4) {
      rgb[to++] = data[from]!
      rgb[to++] = data[from + 1]!
      rgb[to++] = data[from + 2]!
    }
  }
  if (profile) return decodeWithSharp(taggedTiff(width, height, profile, fill), () => undefined)
  const rgb = new Uint8Array(width * height * 3)
  fill(rgb)
  return { width, height, rgb }
}

/** Diagonal of the 36 mm x 24 mm frame; makers state equivalents that keep the diagonal's angle (common practice). */
const FRAME_DIAGONAL_MM = Math.hypot(36, 24)

function focalLengthPx({ exif }: Metadata, diagonalPx: number): number | undefined {
  if (!exif) return undefined
  try {
    const equivalentMm = exifReader(exif).Photo?.FocalLengthIn35mmFilm
    return typeof equivalentMm === 'number' && equivalentMm > 0
      ? (equivalentMm / FRAME_DIAGONAL_MM) * diagonalPx
      : undefined
  } catch {
    return undefined
  }
}
