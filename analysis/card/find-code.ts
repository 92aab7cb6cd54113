import type { Photo } from '../image/decode.js'
import { shrinkGreen, type GreyPicture } from '../image/shrink.js'
import { decodeCardCode } from '../layout/card-code.js'
import type { LadderDesign } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import { loadCodeReader, readCodes, type ReadCode } from './read-codes.js'

/** A card's code in a photograph. */
export interface FoundCode {
  readonly design: LadderDesign
  readonly corners: ReadCode['corners']
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
