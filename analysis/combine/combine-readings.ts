import { conclude } from '../conclude.js'
import { anchorGrowth } from '../coupon/anchor-growth.js'
import { DEFAULT_OPTIONS } from '../default-options.js'
import { ladderLayout } from '../layout/ladder-layout.js'
import { refuse, type Outcome } from '../outcome.js'
import type { CombinedLadder, CombinedRung, MeasureOptions, ReadLadder, ReadRung, RefusalReply } from '../result.js'
import { combineGrowth } from './combine-growth.js'
import { repeatMeans } from './repeat-mean.js'

type Quantity = 'printThroughUm' | 'haze' | 'yellownessPerMm'

/**
 * One answer from several photographs of the same coupons on the same card.
 *
 * A photograph counts by the inverse square of its stated uncertainty. For growth see `combineGrowth`, for the other
 * quantities `repeatMeans`; a line or space counts as surviving when every photograph that shows it says so. A caliper
 * anchors the combined growth once, with the readings given or else those that came with the last photograph that has any.
 *
 * @param readings one a photograph; leave out what should not count
 * @returns the combined ladder, or a refusal: `no-readings`; `other-ladder` when designs differ; `no-rungs` when no
 *   coupon could be read on any of them
 */
export function combineReadings(
  readings: readonly ReadLadder[],
  options: Partial<MeasureOptions> = {},
): Outcome<CombinedLadder> {
  const [first] = readings
  if (!first) return refuse('no-readings', 'Give at least one photograph that could be read.')
  // Coupons stay what they are on whichever edition of their card they are laid.
  const designOf = ({ design }: ReadLadder) => JSON.stringify({ ...design, cardEdition: undefined })
  const design = designOf(first)
  const other = readings.find((reading) => designOf(reading) !== design)
  if (other)
    return refuse(
      'other-ladder',
      'Combine photographs of one card only.',
      `ladders ${first.design.ladderId} and ${other.design.ladderId}, or another design under the same name`,
    )
  const photos = readings.map(rungsOf)
  if (photos.every((rungs) => rungs.length === 0))
    return refuse('no-rungs', 'Photograph the card again; no coupon could be read.', `${readings.length} photographs`)

  const weights = weigh(photos)
  const growth = combineGrowth(photos, weights)
  const means = (quantity: Quantity) => meansOf(photos, weights, quantity)
  const [printThrough, haze, yellowness] = [means('printThroughUm'), means('haze'), means('yellownessPerMm')]
  const rungs = first.rungs.map(({ slot, exposureS }, i): CombinedRung => {
    const seen = photos.flatMap((photo) => photo.filter((rung) => rung.slot === slot))
    const grown = growth.slots.get(slot)
    if (!grown) return { slot, exposureS, refusal: refusalOf(readings, i) }
    const [p, h, y] = [printThrough.get(slot), haze.get(slot), yellowness.get(slot)]
    return {
      slot,
      exposureS,
      photos: seen.length,
      ...grown,
      ...(p ? { printThroughUm: p } : {}),
      smallestLineUm: coarsest(seen.map(({ smallestLineUm }) => smallestLineUm)),
      smallestSpaceUm: coarsest(seen.map(({ smallestSpaceUm }) => smallestSpaceUm)),
      isolated: agreed(seen),
      ...(h ? { haze: h } : {}),
      ...(y ? { yellownessPerMm: y } : {}),
    }
  })
  const tabs = readings.flatMap(({ caliper }) => (caliper ? [caliper.tabs] : [])).at(-1)
  const settings: MeasureOptions = {
    ...DEFAULT_OPTIONS,
    ...(tabs ? { caliperMm: tabs.map(({ slot, widthMm }) => ({ slot, widthMm })) } : {}),
    ...options,
  }
  const anchored = anchorGrowth(rungs, settings, ladderLayout(first.design).coupon.caliperMm)
  return {
    ok: true,
    value: {
      schema: 'stepglass-combined-1',
      design: first.design,
      photos: photos.map((photo, k) => ({
        rungsRead: photo.length,
        offsetUm: growth.offsetsUm[k] ?? 0,
        weight: weights[k] ?? 0,
      })),
      rungs: [...anchored.rungs],
      ...(anchored.caliper ? { caliper: anchored.caliper } : {}),
      ...conclude(first.design, anchored.rungs, settings, anchored.caliper?.tabs.length),
      warnings: [...growth.warnings, ...anchored.warnings, ...warningsOf(readings)],
    },
  }
}

/** What could be read, as the photograph alone gives it: a caliper's anchor is taken off again. */
function rungsOf({ rungs, caliper }: ReadLadder): ReadRung[] {
  return rungs.flatMap((rung) =>
    'growthUm' in rung ? [{ ...rung, ...caliper?.photoAlone.find(({ slot }) => slot === rung.slot) }] : [],
  )
}

/** Shape (photos), sum 1. A photograph on which nothing could be read has no weight that matters. */
function weigh(photos: readonly (readonly ReadRung[])[]): number[] {
  const raw = photos.map((rungs) => {
    const squares = rungs.map(({ growthUm }) => growthUm.standardUncertainty ** 2)
    return squares.length > 0 ? squares.length / squares.reduce((sum, square) => sum + square, 0) : 0
  })
  const total = raw.reduce((sum, weight) => sum + weight, 0)
  return raw.map((weight) => weight / total)
}

function meansOf(photos: readonly (readonly ReadRung[])[], weights: readonly number[], quantity: Quantity) {
  const slots = [...new Set(photos.flat().flatMap((rung) => (rung[quantity] ? [rung.slot] : [])))]
  const repeats = slots.map((slot) =>
    photos.flatMap((rungs, photo) => {
      const measured = rungs.find((rung) => rung.slot === slot)?.[quantity]
      return measured ? [{ photo, measured }] : []
    }),
  )
  const means = repeatMeans(repeats, weights)
  return new Map(slots.map((slot, i) => [slot, means[i]!]))
}

/** Narrowest feature that every photograph shows; null when one shows none. */
const coarsest = (widths: readonly (number | null)[]): number | null =>
  widths.reduce<number | null>((a, b) => (a === null || b === null ? null : Math.max(a, b)), 0)

/** Each line and space once, for it is the same one on every photograph; it survives when all that show it say so. */
function agreed(seen: readonly ReadRung[]): ReadRung['isolated'] {
  const all = seen.flatMap(({ isolated }) => isolated)
  return [...new Map(all.map((feature) => [feature.id, feature])).values()].map((feature) => ({
    ...feature,
    survives: all.every(({ id, survives }) => id !== feature.id || survives),
    outlinePx: [],
  }))
}

function refusalOf(readings: readonly ReadLadder[], rung: number): RefusalReply {
  const found = readings.map(({ rungs }) => rungs[rung]).find((each) => each !== undefined && 'refusal' in each)
  return found && 'refusal' in found ? found.refusal : refuse('not-read', 'Photograph this coupon again.').refusal
}

/** Each warning once, whichever photographs gave it; those about the caliper are made anew. */
function warningsOf(readings: readonly ReadLadder[]): RefusalReply[] {
  const all = readings.flatMap(({ warnings }) => warnings).filter(({ code }) => !code.startsWith('caliper-'))
  return [...new Map(all.map((warning) => [warning.code, warning])).values()]
}
