import { Value } from 'typebox/value'
import { designFault } from './design-limits.js'
import { factorOfCode, FACTORS } from './factors.js'
import { LadderDesign } from './schema.js'

const PREFIX = 'STEPGLASS'
/** Versions of a ladder of exposures, and of one whose rungs differ in something else: of the first edition of cards and of this one. */
const EXPOSURES = { first: '1', now: '3' }
const LEVELS = { first: '2', now: '4' }

/**
 * The text of a card's code. Its fields after `STEPGLASS` are:
 *
 *   3:<ladder id>:<layer um>:<pixel um>:<exposures s, joined by />
 *   4:<ladder id>:<layer um>:<pixel um>:<exposure s>:<code of the factor>:<levels, joined by />
 *
 * 1 and 2 were the same on cards of the first edition.
 * Only characters of the QR code's alphanumeric mode (ISO/IEC 18004), which packs eleven bits into two of them.
 */
export function encodeCardCode(design: LadderDesign): string {
  const { ladderId, layerHeightUm, pixelPitchUm, exposuresS, factor, levels } = design
  const edition = design.cardEdition === 1 ? 'first' : 'now'
  const common = [ladderId, layerHeightUm, pixelPitchUm]
  return factor === undefined || levels === undefined
    ? [PREFIX, EXPOSURES[edition], ...common, exposuresS.join('/')].join(':')
    : [PREFIX, LEVELS[edition], ...common, exposuresS[0], FACTORS[factor].code, levels.join('/')].join(':')
}

export type CardCode =
  { kind: 'card'; design: LadderDesign } | { kind: 'newer-version'; version: string } | { kind: 'foreign' }

/**
 * Reads the text of a code found in a picture. Any text is taken; what is not a card of ours, to the letter as
 * `encodeCardCode` writes it, is `foreign`.
 */
export function decodeCardCode(text: string): CardCode {
  const [prefix, version = '', ladderId, layer, pixel, exposures = '', code, joined = ''] = text.split(':')
  if (prefix !== PREFIX || !/^[1-9]\d*$/.test(version)) return { kind: 'foreign' }
  const kind = [EXPOSURES, LEVELS].find(({ first, now }) => version === first || version === now)
  if (!kind) return { kind: 'newer-version', version }
  const common = {
    ladderId,
    layerHeightUm: Number(layer),
    pixelPitchUm: Number(pixel),
    ...(version === kind.first && { cardEdition: 1 }),
  }
  const levels = joined.split('/')
  const design: unknown =
    kind === EXPOSURES
      ? { ...common, exposuresS: exposures.split('/').map(Number) }
      : { ...common, exposuresS: levels.map(() => Number(exposures)), factor: factorOfCode(code), levels }
  const ours = Value.Check(LadderDesign, design) && designFault(design) === undefined && encodeCardCode(design) === text
  return ours ? { kind: 'card', design } : { kind: 'foreign' }
}
