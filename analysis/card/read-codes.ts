import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { decodePhoto } from '../image/decode.js'
import { shrinkGreen, toPhotoPx, type GreyPicture } from '../image/shrink.js'
import type { Outcome } from '../outcome.js'

export type Corner = readonly [number, number]

/** A QR code in a picture. */
export interface ReadCode {
  readonly text: string
  /** Outer corners in photo pixels: top left, top right, bottom right, bottom left as printed. */
  readonly corners: readonly [Corner, Corner, Corner, Corner]
}

/** A code of 60 modules at two pixels each. */
const LEAST_EDGE_PX = 120

let prepared = false

/** Loads the code reader, if it is not loaded yet. */
export function loadCodeReader(): void {
  if (prepared) return
  // Given the bytes, the library does not go looking for them on the network.
  const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm')
  const bytes = readFileSync(file)
  const wasmBinary = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength)
  // The reading that follows waits for the same promise, and tells what went wrong.
  prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true }).catch(() => undefined)
  prepared = true
}

/** All QR codes in a grey picture. @param tryHarder takes several times as long */
export async function readCodes(picture: GreyPicture, tryHarder: boolean): Promise<ReadCode[]> {
  const results = await readBarcodes(portableGreymap(picture), {
    formats: ['QRCode'],
    tryHarder,
    tryRotate: true,
    tryInvert: false,
    tryDownscale: tryHarder,
    maxNumberOfSymbols: 4,
  })
  const { factor } = picture
  const corner = (p: { x: number; y: number }): Corner => [toPhotoPx(p.x, factor), toPhotoPx(p.y, factor)]
  return results
    .filter((result) => result.isValid)
    .map(({ text, position: p }) => ({
      text,
      corners: [corner(p.topLeft), corner(p.topRight), corner(p.bottomRight), corner(p.bottomLeft)] as const,
    }))
}

/** The picture as a PGM file, the one form of a byte a pixel that the library takes. */
function portableGreymap({ width, height, grey }: GreyPicture): Uint8Array {
  const header = new TextEncoder().encode(`P5 ${width} ${height} 255\n`)
  const file = new Uint8Array(header.length + grey.length)
  file.set(header)
  file.set(grey, header.length)
  return file
}

/**
 * Texts of the QR codes in a photograph, sought in ever larger copies until some are found.
 *
 * @param photo the bytes of a JPEG, PNG, WebP, TIFF, AVIF or HEIC file
 * @returns no texts where no code is seen; a refusal where there is no picture, see `decodePhoto`
 */
export async function readCodeTexts(photo: Uint8Array): Promise<Outcome<string[]>> {
  const decoded = await decodePhoto(photo, loadCodeReader, LEAST_EDGE_PX)
  if (!decoded.ok) return decoded
  for (const factor of [4, 2, 1]) {
    const codes = await readCodes(shrinkGreen(decoded.value, factor), true)
    if (codes.length > 0) return { ok: true, value: codes.map(({ text }) => text) }
  }
  return { ok: true, value: [] }
}
