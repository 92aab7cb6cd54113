import sharp from 'sharp'
import { cardSvg } from '../../server/printables/card-svg.js'
import { layout, photoPx, PX_PER_MM, toPx } from './reading-fixture.js'

/** A drawing of the fixture's card with coupons, standing in for its photograph. Not a photograph, nor a simulated one. */
export async function drawPhoto(): Promise<Buffer> {
  const { card, coupon } = layout
  const rect = (x0: number, y0: number, x1: number, y1: number, style: string) => {
    const [left, top] = toPx(x0, y1)
    return `<rect x="${left}" y="${top}" width="${(x1 - x0) * PX_PER_MM}" height="${(y1 - y0) * PX_PER_MM}" ${style}/>`
  }
  const coupons = card.slots.flatMap(({ originMm: [x, y] }) => [
    rect(
      x,
      y,
      x + coupon.sizeMm.x,
      y + coupon.sizeMm.y,
      'fill="#dfe8ea" fill-opacity="0.5" stroke="#8fa3a8" stroke-width="3"',
    ),
    ...coupon.prisms
      .filter(({ kind }) => kind === 'void')
      .map(({ polygon }) => {
        const points = polygon.map(([px, py]) => toPx(x + px, y + py).join(',')).join(' ')
        return `<polygon points="${points}" fill="#23282b"/>`
      }),
  ])
  const { widthPx, heightPx } = photoPx
  const [left, top] = toPx(-card.sizeMm.x / 2, card.sizeMm.y / 2)
  const overlay = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}">${coupons.join('')}</svg>`
  return sharp({ create: { width: widthPx, height: heightPx, channels: 3, background: '#8a7a68' } })
    .composite([
      { input: Buffer.from(cardSvg(card, PX_PER_MM)), left: Math.round(left), top: Math.round(top) },
      { input: Buffer.from(overlay), left: 0, top: 0 },
    ])
    .jpeg({ quality: 85 })
    .toBuffer()
}
