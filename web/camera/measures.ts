/** A small grey picture: code values from 0 to 255, rows one after the other. */
export interface GreyPicture {
  readonly width: number
  readonly height: number
  readonly grey: Uint8ClampedArray | Uint8Array
}

/** What a live picture is good for, each judged by itself. */
export interface Guidance {
  readonly light: boolean
  readonly glare: boolean
  readonly sharp: boolean
  readonly card: boolean
}

// Limits tried on drawn and simulated pictures of the card shrunk to 320 pixels; a phone's own preview may differ,
// which is why guidance never stops anyone from taking the photo.
const DARKEST_PAPER = 70
const BURNT = 253
const MOST_BURNT = 0.02
const SHARP_EDGE = 34
const CARD_SHARE = 0.22
const CARD_BLACK = 0.015

/** Luma of RGBA pixels (weights of ITU-R BT.601). */
export function greyOf(rgba: Uint8ClampedArray, width: number, height: number): GreyPicture {
  const grey = new Uint8ClampedArray(width * height)
  for (let i = 0; i < grey.length; i++)
    grey[i] = 0.299 * rgba[4 * i]! + 0.587 * rgba[4 * i + 1]! + 0.114 * rgba[4 * i + 2]!
  return { width, height, grey }
}

function quantileOf(histogram: Uint32Array, share: number, total: number): number {
  let count = 0
  for (let value = 0; value < 256; value++) {
    count += histogram[value]!
    if (count >= share * total) return value
  }
  return 255
}

/**
 * Cheap signs of whether a photograph taken now could be read: paper bright but not burnt, its edges steep, and a card
 * of white paper with black print filling the picture.
 */
export function judge({ width, height, grey }: GreyPicture): Guidance {
  const histogram = new Uint32Array(256)
  for (const value of grey) histogram[value]!++
  const paper = quantileOf(histogram, 0.9, grey.length)
  let burnt = 0
  for (let value = BURNT; value < 256; value++) burnt += histogram[value]!
  let white = 0
  let black = 0
  for (const value of grey) {
    if (value > 0.72 * paper) white++
    else if (value < 0.35 * paper) black++
  }
  const steps: number[] = []
  for (let row = 1; row < height - 1; row++)
    for (let column = 1; column < width - 1; column++) {
      const at = row * width + column
      steps.push(Math.abs(grey[at + 1]! - grey[at - 1]!) + Math.abs(grey[at + width]! - grey[at - width]!))
    }
  steps.sort((a, b) => a - b)
  const steepest = ((steps[Math.floor(0.985 * steps.length)] ?? 0) * 100) / Math.max(paper, 1)
  const light = paper >= DARKEST_PAPER
  return {
    light,
    glare: burnt / grey.length < MOST_BURNT,
    sharp: steepest >= SHARP_EDGE,
    card: light && white / grey.length >= CARD_SHARE && black / grey.length >= CARD_BLACK,
  }
}
