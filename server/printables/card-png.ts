import sharp from 'sharp'
import type { LadderLayout } from '../../analysis/index.js'
import { cardSvg } from './card-svg.js'

/** Two pixels a printer's dot, so that every straight edge of the card lies between pixels. */
const DPI = 1200

/** The card as a black-and-white PNG of 1200 pixels an inch, exactly the card's size. */
export async function cardPng(card: LadderLayout['card']): Promise<Buffer> {
  return sharp(Buffer.from(cardSvg(card, DPI / 25.4)), { limitInputPixels: 80_000_000 })
    .greyscale()
    .threshold(128)
    .withMetadata({ density: DPI })
    .png({ palette: true, colours: 2, compressionLevel: 9 })
    .toBuffer()
}
