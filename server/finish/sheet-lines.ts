import type { Resin } from '../api/records.js'
import type { StepName } from './cautions.js'
import type { FinishWords } from './words/english.js'

/** What a person copied from the data sheet of a resin. */
export type ResinSheet = Omit<Resin, 'name' | 'maker' | 'colour' | 'note'>

type Lines = Partial<Record<StepName, Readonly<Record<string, string>>>>

/** Lines to tick that the sheet gives; one with the name of a usual line takes its place. */
export function sheetLines(all: FinishWords, sheet: ResinSheet): Lines {
  const { sheet: words, number } = all
  const { washLiquid, washFlashC, washMaxMin, postCureMin, postCureJPerCm2, softensC } = sheet
  const limitC = hottestC(sheet)
  const one = (id: string, value: number | string | undefined, say: (value: string) => string) =>
    value === undefined ? {} : { [id]: say(typeof value === 'number' ? number(value) : value) }
  return {
    prepare: one('temperature', windowOf(all, sheet), words.temperature),
    wash: {
      ...one('first', washLiquid, words.first),
      ...one('second', washLiquid, words.second),
      ...one('flash', washFlashC, (flashC) => words.flash(washLiquid ?? words.liquid, flashC)),
      ...one('most', washMaxMin, words.washMost),
    },
    'post-cure': {
      ...one('light', postCureMin, (minutes) => words.lamp(minutes, lampOf(all, sheet))),
      ...one('dose', postCureJPerCm2, words.dose),
      ...one('below', limitC, words.below),
    },
    smooth: one('cool', softensC, words.cool),
    coat: one('index', sheet.refractiveIndex, words.index),
  }
}

/** Waits of a step that the sheet gives, min. Baths that are too long for it share what it allows as they did. */
export function sheetMinutes(
  name: StepName,
  baths: { readonly first: number; readonly second: number },
  { standMin, washMaxMin, dryMin, postCureMin }: ResinSheet,
): Readonly<Record<string, number>> {
  switch (name) {
    case 'prepare':
      return standMin === undefined ? {} : { stand: standMin }
    case 'wash': {
      const all = baths.first + baths.second
      if (washMaxMin === undefined || washMaxMin >= all) return {}
      const share = (minutes: number) => Math.floor((10 * minutes * washMaxMin) / all) / 10
      return { first: share(baths.first), second: share(baths.second) }
    }
    case 'dry':
      return dryMin === undefined ? {} : { dry: dryMin }
    case 'post-cure':
      return postCureMin === undefined ? {} : { light: postCureMin }
    default:
      return {}
  }
}

/** Hottest that the sheet allows the part: its limit of post-cure, never past where it softens. */
function hottestC({ postCureMaxC, softensC }: ResinSheet): number | undefined {
  if (postCureMaxC === undefined || softensC === undefined) return postCureMaxC ?? softensC
  return Math.min(postCureMaxC, softensC)
}

/** `22 to 30`, `from 22`, `up to 30`; nothing where the sheet says neither. */
function windowOf({ sheet: words, number }: FinishWords, { fromC, toC }: ResinSheet): string | undefined {
  if (fromC !== undefined && toC !== undefined) return words.range(number(fromC), number(toC))
  if (fromC !== undefined) return words.from(number(fromC))
  return toC === undefined ? undefined : words.to(number(toC))
}

/** `under a lamp of 40 W, 405 nm`; empty where the sheet says neither. */
function lampOf({ sheet: words, number }: FinishWords, { postCureLampW, postCureNm }: ResinSheet): string {
  const parts = [
    ...(postCureLampW === undefined ? [] : [`${number(postCureLampW)} W`]),
    ...(postCureNm === undefined ? [] : [`${number(postCureNm)} nm`]),
  ]
  return parts.length > 0 ? words.under(parts.join(', ')) : ''
}
