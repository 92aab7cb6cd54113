import type { LadderLayout } from '../../analysis/index.js'
import { fontFile } from './font-file.js'

const SCALE = 1.4
/** Room for the bar above and the words below the coupon. */
const ABOVE_MM = 2
const BELOW_MM = 6.5
const WORD_MM = 2.4

/**
 * The coupon as it lies on the card, seen from above, inked.
 *
 * @returns the height of the drawing in mm
 */
export function drawCouponFigure(
  doc: PDFKit.PDFDocument,
  coupon: LadderLayout['coupon'],
  xMm: number,
  yMm: number,
): number {
  const { sizeMm, window, key, labelPlane } = coupon
  const X = (x: number) => xMm + x * SCALE
  const Y = (y: number) => yMm + ABOVE_MM + (sizeMm.y - y) * SCALE
  const outline = (x0: number, y0: number, x1: number, y1: number) =>
    doc.rect(X(x0), Y(y1), (x1 - x0) * SCALE, (y1 - y0) * SCALE)

  outline(0, 0, sizeMm.x, sizeMm.y).lineWidth(0.2).stroke('black')
  for (const { kind, polygon } of coupon.prisms)
    if (kind === 'void') doc.polygon(...polygon.map(([x, y]) => [X(x), Y(y)]))
  doc.fill('black')
  doc.lineWidth(0.1).dash(0.8, { space: 0.8 })
  outline(window.x0Mm, window.y0Mm, window.x1Mm, window.y1Mm).stroke('black').undash()
  // As on the card: the thick bar above the corner where the key belongs.
  outline(key.x0Mm, sizeMm.y + 0.9, key.x1Mm, sizeMm.y + 1.4).fill('black')

  // The raised number, seen on edge.
  outline(sizeMm.x, sizeMm.y * 0.17, sizeMm.x + labelPlane.heightMm, sizeMm.y * 0.83).fill('black')

  doc.font(fontFile('DejaVuSansCondensed'), WORD_MM)
  const centred = (text: string, x: number, y: number) =>
    doc.text(text, X(x) - 20, y, { width: 40, align: 'center', lineBreak: false })
  const below = Y(0) + 1.2
  centred('key', (key.x0Mm + key.x1Mm) / 2, below)
  centred('grooves: ink', (key.x1Mm + window.x0Mm) / 2, below)
  centred('window: no ink', (window.x0Mm + window.x1Mm) / 2, below)
  doc.text('raised number\nand rung', X(sizeMm.x) + 2, Y(sizeMm.y / 2) - 1.2 * WORD_MM)
  return ABOVE_MM + sizeMm.y * SCALE + BELOW_MM
}
