import { refuse } from '../outcome.js'
import type { CombinedGrating, ReadRung, RefusalReply, UncertaintyTerm } from '../result.js'
import { fitPhotoOffsets } from './photo-offsets.js'

export interface CombinedGrowth {
  readonly slots: ReadonlyMap<
    number,
    Pick<ReadRung, 'growthUm' | 'uncertaintyBudget'> & { readonly gratings: CombinedGrating[] }
  >
  /** Shape (photos), um. */
  readonly offsetsUm: readonly number[]
  readonly warnings: readonly RefusalReply[]
}

/** Where a photograph states nothing that differs from coupon to coupon anew: the repeatability of drawn photographs. */
const LEAST_NOISE_UM = 0.3
/** More disagreement than this many times what is stated is no chance. */
const LARGEST_RATIO = 3

/**
 * Growth of each coupon from several photographs, with its budget.
 *
 * Three kinds of terms: what differs between coupons and photographs averages, as stated or as the coupons scatter; what
 * a photograph adds to all its coupons (its tone curve) averages over the photographs, as stated or as their offsets
 * scatter; all else (rims and ink, the lines' own scatter, sharpening by the same camera) is the same every time, counts
 * in full and is taken as fully correlated.
 *
 * @param photos the rungs read on each photograph
 * @param weights shape (photos), sum 1
 * @see JCGM 100:2008 (GUM) 4.2 and 5.2.2; R. T. Birge, Phys. Rev. 40 (1932) 207 for taking the larger of stated and
 *   observed scatter [from memory]
 */
export function combineGrowth(photos: readonly (readonly ReadRung[])[], weights: readonly number[]): CombinedGrowth {
  // A photograph that shows nothing would leave its offset open.
  const shown = photos.map((rungs, photo) => ({ rungs, photo })).filter(({ rungs }) => rungs.length > 0)
  const fit = fitPhotoOffsets(
    shown.flatMap(({ rungs }, photo) =>
      rungs.map(({ slot, growthUm, uncertaintyBudget }) => ({
        photo,
        slot,
        growthUm: growthUm.value,
        noiseUm: Math.max(
          LEAST_NOISE_UM,
          quadrature(uncertaintyBudget.filter((term) => term.averages && !term.shared)),
        ),
      })),
    ),
    shown.map(({ photo }) => weights[photo]!),
  )
  const offsetsUm = photos.map(() => 0)
  for (const [i, { photo }] of shown.entries()) offsetsUm[photo] = fit.offsetsUm[i] ?? 0
  const stated = shown.map(({ rungs }) =>
    Math.max(...rungs.map(({ uncertaintyBudget }) => quadrature(uncertaintyBudget.filter(isOffset)))),
  )
  const observed =
    shown.length > 1 ? Math.sqrt(fit.offsetsUm.reduce((sum, p) => sum + p * p, 0) / (shown.length - 1)) : 0
  const offsetTerm: UncertaintyTerm = {
    source: 'tone curves of the photographs, and how far these disagree',
    standardUncertaintyUm: Math.hypot(...shown.map(({ photo }, i) => weights[photo]! * Math.max(stated[i]!, observed))),
    shared: true,
  }
  const slots = new Map(
    [...fit.slots].map(([slot, { growthUm, standardUncertainty }]) => {
      const seen = shown.flatMap(({ rungs, photo }) =>
        rungs.filter((r) => r.slot === slot).map((rung) => ({ rung, photo })),
      )
      const uncertaintyBudget = [
        ...lastingTerms(seen, weights),
        { source: 'scatter between photographs', standardUncertaintyUm: standardUncertainty, shared: false },
        offsetTerm,
      ].filter(({ standardUncertaintyUm }) => standardUncertaintyUm > 0)
      return [
        slot,
        {
          growthUm: {
            value: growthUm,
            standardUncertainty: quadrature(uncertaintyBudget),
            withinPhotoUncertainty: quadrature(uncertaintyBudget.filter(({ shared }) => !shared)),
          },
          uncertaintyBudget,
          gratings: combineGratings(seen, weights, offsetsUm),
        },
      ] as const
    }),
  )
  return {
    slots,
    offsetsUm,
    warnings: warningsOf(fit.birgeRatio, observed, Math.hypot(...stated) / Math.sqrt(stated.length), offsetsUm),
  }
}

const quadrature = (terms: readonly UncertaintyTerm[]): number =>
  Math.hypot(...terms.map(({ standardUncertaintyUm }) => standardUncertaintyUm))

const isOffset = ({ averages, shared }: UncertaintyTerm): boolean => averages === true && shared

/** Terms that are the same on every photograph: weighted means, since they are fully correlated. */
function lastingTerms(
  seen: readonly { readonly rung: ReadRung; readonly photo: number }[],
  weights: readonly number[],
): UncertaintyTerm[] {
  const total = seen.reduce((sum, { photo }) => sum + weights[photo]!, 0)
  const terms = new Map<string, UncertaintyTerm>()
  for (const { rung, photo } of seen)
    for (const { source, standardUncertaintyUm, shared, averages } of rung.uncertaintyBudget) {
      if (averages) continue
      const before = terms.get(source)?.standardUncertaintyUm ?? 0
      const share = (weights[photo]! / total) * standardUncertaintyUm
      terms.set(source, { source, standardUncertaintyUm: before + share, shared })
    }
  return [...terms.values()]
}

/**
 * Growth of each grating of one coupon, freed of the photographs' offsets: weighted means. The scatter of its lines is the
 * same every time and does not average.
 */
function combineGratings(
  seen: readonly { readonly rung: ReadRung; readonly photo: number }[],
  weights: readonly number[],
  offsetsUm: readonly number[],
): CombinedGrating[] {
  const all = seen.flatMap(({ rung, photo }) =>
    rung.gratings.map(({ group, growthUm }) => ({ group, growthUm, photo, weight: weights[photo]! })),
  )
  return [...new Set(all.map(({ group }) => group))].map((group) => {
    const own = all.filter((one) => one.group === group)
    const total = own.reduce((sum, { weight }) => sum + weight, 0)
    const meanOf = (of: (one: (typeof own)[number]) => number) =>
      own.reduce((sum, one) => sum + one.weight * of(one), 0) / total
    return {
      group,
      growthUm: {
        value: meanOf(({ growthUm, photo }) => growthUm.value - offsetsUm[photo]!),
        standardUncertainty: meanOf(({ growthUm }) => growthUm.standardUncertainty),
      },
    }
  })
}

function warningsOf(
  birgeRatio: number | null,
  observedUm: number,
  statedUm: number,
  offsetsUm: readonly number[],
): RefusalReply[] {
  const differ = refuse(
    'photos-disagree',
    'The photographs disagree on the growth of all coupons by more than their tone explains; leave out the one that is worse focused, lit or sharpened.',
    `offsets ${offsetsUm.map((offset) => offset.toFixed(1)).join(', ')} um, stated u = ${statedUm.toFixed(1)} um`,
  ).refusal
  const swapped = refuse(
    'coupons-disagree',
    'The photographs disagree on the differences between coupons: check that each coupon lay in the same slot every time, then leave out the photograph where it did not.',
    `scatter ${(birgeRatio ?? 0).toFixed(1)} times what is stated, at most ${LARGEST_RATIO}`,
  ).refusal
  return [
    ...(observedUm > LARGEST_RATIO * Math.max(statedUm, LEAST_NOISE_UM) ? [differ] : []),
    ...((birgeRatio ?? 0) > LARGEST_RATIO ? [swapped] : []),
  ]
}
