import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import type { Photo } from '../image/decode.js'
import { shrinkGreen, toPhotoPx, type GreyPicture } from '../image/shrink.js'
import { decodeCardCode } from '../layout/card-code.js'
import type { LadderDesign } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'

type Corner = readonly [number, number]

/** A card's code in a photograph. */
export interface FoundCode {
  readonly design: LadderDesign
  /** Outer corners of the code in photo pixels: top left, top right, bottom right, bottom left as printed. */
  readonly corners: readonly [Corner, Corner, Corner, Corner]
}

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

async function readCodes(picture: GreyPicture, tryHarder: boolean) {
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
 * The card's code, sought first in the photograph shrunk to a quarter, then with more patience, then at half size.
 *
 * @returns the code, or a refusal: `no-card`, `two-cards`, `other-code`, `newer-card`
 */
export async function findCode(photo: Photo, quarter: GreyPicture): Promise<Outcome<FoundCode>> {
  loadCodeReader()
  let found = await readCodes(quarter, false)
  if (found.length === 0) found = await readCodes(quarter, true)
  if (found.length === 0) found = await readCodes(shrinkGreen(photo, 2), true)
  const codes = found.map(({ text, corners }) => ({ code: decodeCardCode(text), corners }))
  const cards = codes.flatMap(({ code, corners }) => (code.kind === 'card' ? [{ design: code.design, corners }] : []))
  const [card, second] = cards
  if (second) return refuse('two-cards', 'Photograph one card at a time.', `${cards.length} cards in the picture`)
  if (card) return { ok: true, value: card }
  const newer = codes.find(({ code }) => code.kind === 'newer-version')
  if (newer) return refuse('newer-card', 'Update Stepglass: this card was made by a newer version.')
  if (codes.length > 0)
    return refuse('other-code', 'Photograph a Stepglass card: the code in this picture is another one.')
  return refuse(
    'no-card',
    'No card is to be seen. Photograph the whole card from above, in focus, with its square code uncovered.',
  )
}
