import { createHash } from 'node:crypto'
import { FACTORS, rungText, type Factor, type LadderLayout } from '../../analysis/index.js'
import { RESIN_CAUTIONS } from './cautions.js'

/**
 * Slots in random order, so that what drifts while a ladder is printed (resin temperature, lamp, settling) cannot pass
 * for an effect of the exposure.
 *
 * @param slots slot numbers
 * @param seed the same seed gives the same order
 */
export function printOrder(slots: readonly number[], seed: string): number[] {
  const rank = (slot: number) => createHash('sha256').update(`${seed}:${slot}`).digest('hex')
  return slots
    .map((slot) => ({ slot, rank: rank(slot) }))
    .sort((a, b) => (a.rank < b.rank ? -1 : 1))
    .map(({ slot }) => slot)
}

const wrap = (text: string) => text.replace(/(.{1,76})(?:\s+|$)/g, '$1\n').trimEnd()

const bullet = (text: string) => wrap(`- ${text}`).replaceAll('\n', '\n  ')
const LOAD =
  'Load the file as it comes: the coupon stands on its long lower edge. Do not turn, mirror, scale or lay it down. No supports, no raft.'
const SPOT = 'Always the same spot of the build plate: light differs across the mask.'
const PLAIN =
  'In the slicer switch off anti-aliasing, blur and every compensation of dimensions: they move the edges to be measured.'
const ALIKE = 'Wash, dry and post-cure all coupons alike, then ink them and lay them on the card.'

const ADVICE = {
  exposure: [
    LOAD,
    SPOT,
    'Only the layer exposure changes. Base layers, lift, rest and layer height stay as they are.',
    PLAIN,
    'Stir the resin and let bubbles rise before the first rung. Note its temperature at each.',
    ALIKE,
  ].map(bullet),
  printing: [LOAD, SPOT, 'Only what the rungs differ in changes. All settings of the printer stay.', PLAIN, ALIKE].map(
    bullet,
  ),
  afterwards: [
    LOAD,
    PLAIN,
    'Only what the rungs differ in changes: wash, dry and handle all coupons alike.',
    'Grit and coat: treat the window only, on both faces, so that the grooves stay readable.',
    'Then ink the coupons and lay them on the card.',
  ].map(bullet),
}

/** What to print in which order, as plain text for the workshop. */
export function printOrderNote(layout: LadderLayout, seed: string): string {
  const { design, card } = layout
  const order = printOrder(
    card.slots.map(({ slot }) => slot),
    seed,
  )
  const rungs = order.map(
    (slot, i) => `  ${i + 1}.  rung ${slot}   ${design.factor ? '' : 'layer exposure '}${rungText(design, slot)}`,
  )
  const drawn = (what: string) =>
    wrap(
      `The order is drawn at random (seed ${seed}), so that drift ${what} cannot pass for an effect of the ${design.factor ? FACTORS[design.factor].name : 'exposure'}.`,
    )
  return [
    `Ladder ${design.ladderId}: layer height ${design.layerHeightUm} um, mask pixel ${design.pixelPitchUm} um`,
    '',
    ...(design.factor
      ? levelsNote(design, design.factor, rungs, drawn)
      : ['One print a rung, in this order:', '', ...rungs, '', drawn('while printing')]),
    '',
    ...ADVICE[design.factor ? FACTORS[design.factor].when : 'exposure'],
    '',
    wrap(RESIN_CAUTIONS),
    '',
  ].join('\n')
}

function levelsNote(
  { exposuresS }: LadderLayout['design'],
  factor: Factor,
  rungs: readonly string[],
  drawn: (what: string) => string,
): string[] {
  const { when, name } = FACTORS[factor]
  const all = `Every coupon is printed at ${exposuresS[0]} s a layer; the rungs differ in ${name}.`
  return when === 'printing'
    ? [wrap(all), '', 'One print a rung, in this order:', '', ...rungs, '', drawn('while printing')]
    : [
        wrap(
          `${all} Print them in any number of jobs, each at the same spot of the build plate where you can; each carries the number of its rung. Then treat them in this order:`,
        ),
        '',
        ...rungs,
        '',
        drawn('of lamp, liquid or hand'),
      ]
}
