import { create } from 'qrcode'

/** A QR code as one path over a square of that many modules, quiet zone included. */
export interface CodeDrawing {
  readonly modules: number
  /** SVG path, a module to the unit. */
  readonly path: string
}

/** Light modules around the code that its standard asks for (ISO/IEC 18004, 5.3.8 [from memory]). */
const QUIET = 4

/** Draws text as a QR code that still reads when 15 % of it is worn off (level M). */
export function drawCode(text: string): CodeDrawing {
  const { size, data } = create(text, { errorCorrectionLevel: 'M' }).modules
  const runs = Array.from({ length: size }, (_, row) => {
    const dark = Array.from(data.subarray(row * size, (row + 1) * size)).join('')
    return [...dark.matchAll(/1+/g)].map(
      ({ index, 0: { length } }) => `M${index + QUIET} ${row + QUIET}h${length}v1h${-length}z`,
    )
  })
  return { modules: size + 2 * QUIET, path: runs.flat().join('') }
}
