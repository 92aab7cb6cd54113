import { refuse } from '../outcome.js'
import type { CaliperAnchor, MeasureOptions, ReadRung, RefusalReply, RefusedRung, UncertaintyTerm } from '../result.js'
import { scaleOfNoise } from '../statistics/noise-scale.js'
import { sharedUncertaintyUm } from './growth-budget.js'

/** A rung of one photograph or of several. */
type Anchorable = Pick<ReadRung, 'slot' | 'growthUm' | 'uncertaintyBudget'> | Pick<RefusedRung, 'slot' | 'refusal'>
type Grown = Extract<Anchorable, { growthUm: unknown }>

export interface AnchoredRungs<R> {
  readonly rungs: readonly R[]
  /** Absent when no coupon that was read was measured with a caliper. */
  readonly caliper?: CaliperAnchor
  readonly warnings: readonly RefusalReply[]
}

/**
 * A digital caliper with steps of 0.01 mm may err by 0.02 mm below 50 mm (DIN 862 and makers' data sheets, from memory),
 * taken as rectangular.
 */
const INSTRUMENT_MM = 0.02 / Math.sqrt(3)
/** Each reading: one digital step either way, rectangular. Common practice, no source. */
const HANDLING_MM = 0.01 / Math.sqrt(3)
/** Shrinkage that the slicer leaves, and the true size of a mask's pixel, share of a length. Common practice, no source. */
const TAB_SCALE = 0.002
/** Beyond this many standard uncertainties photo and caliper do not measure the same thing. */
const LARGEST_RATIO = 3

/**
 * Anchors the absolute growth of a photograph's rungs with caliper readings of their tabs.
 *
 * A tab is its nominal width plus twice the growth, so each reading gives the growth of its coupon. The mean difference
 * D of photo and caliper estimates the offset that the photo puts on all coupons alike. Best linear unbiased estimate
 * from D and from what is known beforehand, an offset of 0 with the photo's common uncertainty uc:
 *
 *   offset = w D,  w = uc^2 / (uc^2 + uD^2),  u^2 = ((1 - w) uc)^2 + (w uD)^2
 *
 * so each common term of the photo counts 1 - w, each of the caliper w. Differences between rungs stay as they were. When
 * |D| exceeds three times its combined uncertainty both are kept and u is raised by that ratio (Birge, one degree of
 * freedom): which of the two is wrong cannot be told from here.
 *
 * @param nominalMm width of the tab as drawn
 * @returns rungs with the offset taken off, what was found, and warnings
 * @see JCGM 100:2008 (GUM) 5.1.2; A. C. Aitken, Proc. R. Soc. Edinb. 55 (1936) 42 for the estimate [from memory];
 *   R. T. Birge, Phys. Rev. 40 (1932) 207 for the ratio [from memory]
 */
export function anchorGrowth<R extends Anchorable>(
  rungs: readonly R[],
  { caliperMm = [], caliperUncertaintyMm = INSTRUMENT_MM }: Partial<MeasureOptions>,
  nominalMm: number,
): AnchoredRungs<R> {
  if (caliperMm.length === 0) return { rungs, warnings: [] }
  const read = rungs.filter((rung): rung is R & Grown => 'growthUm' in rung)
  const tabs = caliperMm.flatMap(({ slot, widthMm }) => {
    const rung = read.find((candidate) => candidate.slot === slot)
    return rung ? [{ slot, widthMm, growthUm: ((widthMm - nominalMm) * 1000) / 2, rung }] : []
  })
  if (tabs.length === 0) {
    const slots = caliperMm.map(({ slot }) => slot).join(', ')
    return { rungs, warnings: [notUsed(`caliper readings of slots ${slots}, none of which could be read`)] }
  }

  const mean = weightedMean(
    tabs.map(({ growthUm, rung }) => ({
      value: rung.growthUm.value - growthUm,
      standardUncertainty: Math.hypot(rung.growthUm.withinPhotoUncertainty, perSideUm(HANDLING_MM)),
    })),
  )
  const caliperTerms = [
    shared('reading of the caliper', mean.standardUncertainty),
    shared('error of the caliper', perSideUm(caliperUncertaintyMm)),
    shared('shrinkage of the tab', perSideUm(TAB_SCALE * nominalMm)),
  ]
  const uCaliper = sharedUncertaintyUm(caliperTerms)
  const uPhoto = Math.max(...read.map(({ uncertaintyBudget }) => sharedUncertaintyUm(uncertaintyBudget)))
  const combined = Math.hypot(uPhoto, uCaliper)
  const weight = (uPhoto / combined) ** 2
  const ratio = Math.abs(mean.value) / combined
  const disagree = ratio > LARGEST_RATIO
  const widened = disagree ? ratio : 1
  const appliedUm = weight * mean.value
  const times = (terms: readonly UncertaintyTerm[], factor: number) =>
    terms.map((term) => ({ ...term, standardUncertaintyUm: term.standardUncertaintyUm * factor }))

  return {
    rungs: rungs.map((rung) => {
      if (!('growthUm' in rung)) return rung
      const own = rung.uncertaintyBudget.filter((term) => !term.shared)
      const common = rung.uncertaintyBudget.filter((term) => term.shared)
      const uncertaintyBudget = [
        ...own,
        ...times(common, (1 - weight) * widened),
        ...times(caliperTerms, weight * widened),
      ]
      return {
        ...rung,
        growthUm: {
          ...rung.growthUm,
          value: rung.growthUm.value - appliedUm,
          standardUncertainty: Math.hypot(...uncertaintyBudget.map((term) => term.standardUncertaintyUm)),
        },
        uncertaintyBudget,
      }
    }),
    caliper: {
      nominalMm,
      tabs: tabs.map(({ slot, widthMm, growthUm }) => ({ slot, widthMm, growthUm })),
      offsetUm: { value: mean.value, standardUncertainty: combined },
      appliedUm,
      photoAlone: read.map(({ slot, growthUm, uncertaintyBudget }) => ({ slot, growthUm, uncertaintyBudget })),
    },
    warnings: disagree ? [disagreement(mean.value, combined)] : [],
  }
}

/** A width's uncertainty as one of growth, um: each side takes half. */
const perSideUm = (widthMm: number): number => (widthMm * 1000) / 2

const shared = (source: string, standardUncertaintyUm: number): UncertaintyTerm => ({
  source,
  standardUncertaintyUm,
  shared: true,
})

/** Mean with weights 1/u^2; scatter beyond the stated uncertainties widens its own. */
function weightedMean(values: readonly { readonly value: number; readonly standardUncertainty: number }[]) {
  const weights = values.map(({ standardUncertainty }) => standardUncertainty ** -2)
  const total = weights.reduce((sum, w) => sum + w, 0)
  const value = values.reduce((sum, v, i) => sum + weights[i]! * v.value, 0) / total
  const rss = values.reduce((sum, v, i) => sum + weights[i]! * (v.value - value) ** 2, 0)
  const { varianceFactor } = scaleOfNoise(rss, values.length - 1, 'larger')
  return { value, standardUncertainty: Math.sqrt(varianceFactor / total) }
}

const notUsed = (detail: string): RefusalReply =>
  refuse(
    'caliper-not-used',
    'Give the caliper reading of a coupon that was read in this photo: its slot and the width of its tab.',
    detail,
  ).refusal

const disagreement = (offsetUm: number, u: number): RefusalReply =>
  refuse(
    'caliper-disagrees',
    offsetUm < 0
      ? 'The caliper finds the coupons bigger than the photo does. Likely causes: ink filled to the brim of the grooves or bare rims that took no ink, or the caliper sat on the foot of the first layers. Ink again and measure the tab in the middle of its height.'
      : 'The caliper finds the coupons smaller than the photo does. Likely causes: a worn or badly zeroed caliper, a tab that gave way or was sanded, or grooves that took too little ink. Zero the caliper and measure the tab again.',
    `growth by photo less growth by caliper ${offsetUm.toFixed(0)} um per side, u = ${u.toFixed(1)} um`,
  ).refusal
