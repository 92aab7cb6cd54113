import { createHash } from 'node:crypto'
import type { LadderLayout } from '../../analysis/index.js'
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

const ADVICE = [
  'Load the file as it comes: the coupon stands on its long lower edge. Do not turn, mirror, scale or lay it down. No supports, no raft.',
  'Always the same spot of the build plate: light differs across the mask.',
  'Only the layer exposure changes. Base layers, lift, rest and layer height stay as they are.',
  'In the slicer switch off anti-aliasing, blur and every compensation of dimensions: they move the edges to be measured.',
  'Stir the resin and let bubbles rise before the first rung. Note its temperature at each.',
  'Wash, dry and post-cure all coupons alike, then ink them and lay them on the card.',
].map((text) => wrap(`- ${text}`).replaceAll('\n', '\n  '))

/** What to print in which order, as plain text for the workshop. */
export function printOrderNote({ design, card }: LadderLayout, seed: string): string {
  const order = printOrder(
    card.slots.map(({ slot }) => slot),
    seed,
  )
  return [
    `Ladder ${design.ladderId}: layer height ${design.layerHeightUm} um, mask pixel ${design.pixelPitchUm} um`,
    '',
    'One print a rung, in this order:',
    '',
    ...order.map((slot, i) => `  ${i + 1}.  rung ${slot}   layer exposure ${design.exposuresS[slot - 1]} s`),
    '',
    wrap(
      `The order is drawn at random (seed ${seed}), so that drift while printing cannot pass for an effect of the exposure.`,
    ),
    '',
    ...ADVICE,
    '',
    wrap(RESIN_CAUTIONS),
    '',
  ].join('\n')
}
