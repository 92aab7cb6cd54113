import sharp from 'sharp'
import type { LadderLayout } from '../../analysis/index.js'
import { cardSvg } from './card-svg.js'

/** Two pixels a printer's dot, so that every straight edge of the card lies between pixels. */
const DPI = 1200

/** The card as a black-and-white PNG of 1200 pixels an inch, exactly the card's size. */
export async function cardPng(card: LadderLayout['card']): Promise<Buffer> {
  return sharp(Buffer.from(cardSvg(card, DPI / 25.4)), { limitInputPixels: 80_000_000 })
    .removeAlpha()
    .toColourspace('b-w')
    .threshold(128)
    .withDensity(DPI)
    .png({ compressionLevel: 9 })
    .toBuffer()
}
