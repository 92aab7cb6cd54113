import { Value } from 'typebox/value'
import { designFault } from './design-limits.js'
import { LadderDesign } from './schema.js'

const PREFIX = 'STEPGLASS'
const VERSION = '1'

/**
 * The text of a card's code: `STEPGLASS:1:<ladder id>:<layer um>:<pixel um>:<exposures s, joined by />`.
 *
 * Only characters of the QR code's alphanumeric mode (ISO/IEC 18004), which packs eleven bits into two of them.
 */
export function encodeCardCode(design: LadderDesign): string {
  const { ladderId, layerHeightUm, pixelPitchUm, exposuresS } = design
  return [PREFIX, VERSION, ladderId, layerHeightUm, pixelPitchUm, exposuresS.join('/')].join(':')
}

export type CardCode =
  { kind: 'card'; design: LadderDesign } | { kind: 'newer-version'; version: string } | { kind: 'foreign' }

/**
 * Reads the text of a code found in a picture. Any text is taken; what is not a card of ours, to the letter as
 * `encodeCardCode` writes it, is `foreign`.
 */
export function decodeCardCode(text: string): CardCode {
  const [prefix, version = '', ladderId, layer, pixel, exposures = ''] = text.split(':')
  if (prefix !== PREFIX || !/^[1-9]\d*$/.test(version)) return { kind: 'foreign' }
  if (version !== VERSION) return { kind: 'newer-version', version }
  const design: unknown = {
    ladderId,
    layerHeightUm: Number(layer),
    pixelPitchUm: Number(pixel),
    exposuresS: exposures.split('/').map(Number),
  }
  const ours = Value.Check(LadderDesign, design) && designFault(design) === undefined && encodeCardCode(design) === text
  return ours ? { kind: 'card', design } : { kind: 'foreign' }
}
