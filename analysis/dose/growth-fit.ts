import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { informationCriterion } from '../statistics/information-criterion.js'
import type { NoiseBasis } from '../statistics/noise-scale.js'
import { quadraticForm } from '../statistics/quadratic-form.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { combineUncertainty } from '../statistics/uncertainty.js'
import { offsetRow, planOffsets, type Axis, type GrowthRung, type OffsetPlan } from './coupon-readings.js'
import { fitShape, type PlacedRung, type ShapeFit, type ShapeFitOptions } from './fit-shape.js'
import { SHAPES, type GrowthShape, type ShapeName } from './growth-shape.js'

export interface GrowthFitOptions {
  /**
   * Standard uncertainty, um, of an offset shared by all rungs of the photo (rim, ink, tone). It leaves differences and
   * slope alone and adds to every absolute level. Default 0.
   */
  readonly commonUncertaintyUm?: number
  /** Where the size of the rungs' own noise comes from. Default `larger`: as stated, or their scatter if that is more. */
  readonly noise?: NoiseBasis
}

/** One model of growth, fitted. */
export interface GrowthModel extends Omit<ShapeFit, 'rss'> {
  readonly model: ShapeName
  readonly offsets: OffsetPlan
  /** Akaike's criterion as in `informationCriterion`; lower is better. */
  readonly criterion: number
  /** Akaike weight among the models under which growth rises all along the rungs; 0 for the others. */
  readonly weight: number
  /** Its share in intervals, see `tailAbove`: as `weight`, without Akaike's penalty where the noise is given. */
  readonly tailWeight: number
}

export interface GrowthFit {
  readonly chosen: GrowthModel
  /** Every model that could be fitted, the chosen one first, then by weight. */
  readonly candidates: readonly GrowthModel[]
  readonly whyChosen: string
  /** Geometric mean of the rungs' exposures. */
  readonly referenceS: number
  readonly commonUncertaintyUm: number
  /** Growth along x less along y, um, when coupons of both kinds were read. */
  readonly axisDifferenceUm?: Estimate
  /** Whether that difference is significant at 95 %; only then do the axes have offsets of their own. */
  readonly axesDiffer: boolean
  /** In order of exposure. The residual is measured less fitted, of the coupon's mean. */
  readonly rungs: readonly (GrowthRung & { readonly fittedUm: number; readonly residualUm: number })[]
}

const FEWEST_RUNGS = 3
const FEWEST_FOR_QUADRATIC = 5

/**
 * Lateral growth against ln(exposure): straight, quadratic, or the blurred edge at a threshold, whichever the rungs
 * support best.
 *
 * Gratings of different pitch have offsets of their own and one shape; so have coupons printed turned, if they differ at
 * 95 % from the others. Coupons scatter by what their readings state and, where they scatter more, by a spread between
 * coupons found by REML; repeats at one exposure are its purest witness. See `fitShape`.
 *
 * Models are compared by Akaike's criterion with the noise given: stated uncertainties and the spread that the
 * best-fitting model leaves. Only for noise `scatter` is it AICc in its textbook form, which hardly ever bends six
 * rungs. The quadratic needs five rungs, and is out when it would have growth fall between the rungs, which no exposure
 * does. Intervals of exposures allow for the rivals, see `findExposureInterval`.
 *
 * Assumes exact exposures and independent normal errors besides the common offset.
 *
 * @param rungs three different exposures or more, any order, repeats allowed
 * @returns the fit, or the refusal `too-few-rungs`
 * @throws {RangeError} if an exposure or uncertainty is not above 0, or a growth is not finite
 * @see K. P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference (Springer 2002) 2.5, 2.9 [from memory]
 * @example fitGrowth([
 *   { exposureS: 2, growthUm: { value: -10, standardUncertainty: 1 } },
 *   { exposureS: 2.5, growthUm: { value: -3, standardUncertainty: 1 } },
 *   { exposureS: 3, growthUm: { value: 4, standardUncertainty: 1 } },
 * ]) // straight, 34.4(35) um per ln(exposure)
 */
export function fitGrowth(
  rungs: readonly GrowthRung[],
  { commonUncertaintyUm = 0, noise = 'larger' }: GrowthFitOptions = {},
): Outcome<GrowthFit> {
  requireRungs(rungs, commonUncertaintyUm)
  const different = new Set(rungs.map(({ exposureS }) => exposureS)).size
  if (different < FEWEST_RUNGS) {
    return refuse(
      'too-few-rungs',
      'Print at least three different exposures that can be read.',
      `${rungs.length} readable rungs at ${different} exposures, ${FEWEST_RUNGS} exposures needed`,
    )
  }
  const ordered = [...rungs].sort((a, b) => a.exposureS - b.exposureS)
  const logs = ordered.map(({ exposureS }) => Math.log(exposureS))
  const logReference = logs.reduce((sum, log) => sum + log, 0) / logs.length
  const placed = ordered.map((rung, i) => ({ ...rung, u: logs[i]! - logReference }))

  const plan = planOffsets(rungs)
  const first = fitCandidates(placed, plan, noise)
  if (!first.ok) return first
  const axisDifferenceUm = plan.axes ? axisDifference(first.value[0]!) : undefined
  const axesDiffer =
    axisDifferenceUm !== undefined &&
    Math.abs(axisDifferenceUm.value) >
      coverageFactor(axisDifferenceUm.degreesOfFreedom) * axisDifferenceUm.standardUncertainty
  const fitted = plan.axes && !axesDiffer ? fitCandidates(placed, { ...plan, axes: false }, noise) : first
  if (!fitted.ok) return fitted
  const chosen = fitted.value[0]!
  return {
    ok: true,
    value: {
      chosen,
      candidates: fitted.value,
      whyChosen: explain(fitted.value, rungs.length),
      referenceS: Math.exp(logReference),
      commonUncertaintyUm,
      ...(axisDifferenceUm ? { axisDifferenceUm } : {}),
      axesDiffer,
      rungs: placed.map(({ u, ...rung }) => {
        const { growthUm } = evaluateGrowth(chosen, u, rung.axis ?? 'x')
        const residualUm = meanReading(rung, chosen) - growthUm
        return { ...rung, fittedUm: rung.growthUm.value - residualUm, residualUm }
      }),
    },
  }
}

/** Fitted growth at one place, and what is needed to move from there. */
export interface FittedGrowth {
  readonly growthUm: number
  /** um^2, without the common offset. */
  readonly varianceUm2: number
  /** um per unit of ln(exposure). */
  readonly slopeUm: number
}

/**
 * @param u ln(exposure / referenceS) of the fit
 * @param axis of one axis where they differ; default: midway between the two
 */
export function evaluateGrowth(model: GrowthModel, u: number, axis?: Axis): FittedGrowth {
  const shape = SHAPES[model.model]
  const direction = [...shape.gradient(model.parameters, u), ...offsetRow(model.offsets, axis)]
  return {
    growthUm: growthOf(model, model.parameters, u, axis),
    varianceUm2: quadraticForm(model.covariance, direction),
    slopeUm: shape.slopeUm(model.parameters, u),
  }
}

/** Growth, um, that a model gives with other parameters than its own. */
export function growthOf(
  { model, offsets }: Pick<GrowthModel, 'model' | 'offsets'>,
  parameters: ArrayLike<number>,
  u: number,
  axis?: Axis,
): number {
  const shape = SHAPES[model]
  return offsetRow(offsets, axis).reduce(
    (sum, value, j) => sum + value * parameters[shape.parameterCount + j]!,
    shape.growthUm(parameters, u),
  )
}

/**
 * Absolute growth the fit expects at an exposure, common offset included.
 *
 * Degrees of freedom by Welch-Satterthwaite, the common offset taken as known exactly.
 *
 * @param exposureS above 0; the fit speaks only for exposures between its rungs
 */
export function growthAt(fit: GrowthFit, exposureS: number, axis?: Axis): Estimate {
  const { growthUm, varianceUm2 } = evaluateGrowth(fit.chosen, Math.log(exposureS / fit.referenceS), axis)
  const combined = combineUncertainty([
    { standardUncertainty: Math.sqrt(varianceUm2), ...freedomOf(fit.chosen) },
    { standardUncertainty: fit.commonUncertaintyUm },
  ])
  return makeEstimate(growthUm, combined.standardUncertainty, combined.degreesOfFreedom)
}

/** Lowest and highest exposure of the rungs, s: the range the fit speaks for. */
export function rungRangeS({ rungs }: Pick<GrowthFit, 'rungs'>): readonly [number, number] {
  return [rungs[0]!.exposureS, rungs.at(-1)!.exposureS]
}

/** Offset of each grating from the mean of all, um. */
export function gratingOffsets({ chosen }: GrowthFit): { group: string; offsetUm: Estimate }[] {
  const { offsets, parameters, covariance, model } = chosen
  const none = SHAPES[model].gradient(parameters, 0).map(() => 0)
  return offsets.groups.map((group) => {
    const direction = [...none, ...offsetRow(offsets, undefined, group)]
    const value = direction.reduce((sum, d, i) => sum + d * parameters[i]!, 0)
    return { group, offsetUm: makeEstimate(value, Math.sqrt(quadraticForm(covariance, direction))) }
  })
}

const freedomOf = ({ degreesOfFreedom }: GrowthModel) => (degreesOfFreedom === undefined ? {} : { degreesOfFreedom })

/** Every model that can be fitted, the best first. */
function fitCandidates(rungs: readonly PlacedRung[], offsets: OffsetPlan, noise: NoiseBasis): Outcome<GrowthModel[]> {
  const zeros = [...offsets.groups.slice(1), ...(offsets.axes ? [0] : [])].map(() => 0)
  const plain = { offsets, noise, start: [] }
  const line = fitShape(SHAPES.straight, rungs, plain)
  if (!line.ok) return line
  const attempts: [GrowthShape, ShapeFitOptions][] = [[SHAPES.straight, plain]]
  if (rungs.length >= FEWEST_FOR_QUADRATIC) attempts.push([SHAPES.quadratic, plain])
  const [intercept, slope] = line.value.parameters as [number, number]
  if (slope > 0)
    attempts.push([SHAPES.threshold, { ...plain, start: [...edgeLike(intercept, slope, rungs[0]!.u), ...zeros] }])
  const fits = attempts.flatMap(([shape, options]) => {
    const fit = fitShape(shape, rungs, options)
    return fit.ok ? [{ shape, options, fit: fit.value }] : []
  })

  // What the best-fitting model leaves is noise under any of them; what a stiffer one leaves may be bend.
  const spreadUm2 = Math.min(...fits.map(({ fit }) => fit.spreadUm2))
  const models = fits.flatMap(({ shape, options, fit: { rss, ...fit } }) => {
    const atSameSpread =
      fit.spreadUm2 === spreadUm2
        ? ({ ok: true, value: { rss } } as const)
        : fitShape(shape, rungs, { ...options, spreadUm2 })
    if (!atSameSpread.ok) return []
    const summary = { rss: atSameSpread.value.rss, points: fit.rowCount, coefficients: fit.parameters.length }
    const criterion = informationCriterion(summary, noise === 'scatter' ? 'from-scatter' : 'given')
    const rises = [rungs[0]!.u, rungs.at(-1)!.u].every((u) => shape.slopeUm(fit.parameters, u) > 0)
    const misfit = noise === 'scatter' ? criterion : summary.rss
    return [{ ...fit, model: shape.name, offsets, criterion, misfit, canHold: rises || shape.name === 'straight' }]
  })
  const weights = shares(models, ({ criterion }) => criterion)
  const tailWeights = shares(models, ({ misfit }) => misfit)
  return {
    ok: true,
    value: models
      .map(({ canHold: _, misfit: __, ...model }, i) => ({
        ...model,
        weight: weights[i]!,
        tailWeight: tailWeights[i]!,
      }))
      .sort((a, b) => b.weight - a.weight),
  }
}

/** exp(-badness / 2) of each model that can hold, over their sum. */
function shares<T extends { readonly canHold: boolean }>(
  models: readonly T[],
  badness: (model: T) => number,
): number[] {
  const best = Math.min(...models.filter(({ canHold }) => canHold).map(badness))
  const likelihoods = models.map((model) => (model.canHold ? Math.exp((best - badness(model)) / 2) : 0))
  const total = likelihoods.reduce((sum, value) => sum + value, 0)
  return likelihoods.map((value) => value / total)
}

/** Blur and size of the edge that a straight line resembles, with every rung above the critical exposure. */
function edgeLike(intercept: number, slope: number, uLow: number): [number, number] {
  return [slope / Math.sqrt(Math.PI / 2), Math.min(-intercept / slope, uLow + 0.6)]
}

function axisDifference(model: GrowthModel): Estimate {
  const last = model.parameters.length - 1
  return makeEstimate(model.parameters[last]!, Math.sqrt(model.covariance[last]![last]!), model.degreesOfFreedom)
}

/** A coupon's growth, its missing gratings allowed for. */
function meanReading({ growthUm, gratings }: GrowthRung, { offsets, parameters, model }: GrowthModel): number {
  if (offsets.groups.length === 0 || !gratings) return growthUm.value
  const known = parameters.slice(SHAPES[model].parameterCount)
  const shifts = gratings.map(({ group }) =>
    offsetRow(offsets, undefined, group).reduce((sum, value, j) => sum + value * known[j]!, 0),
  )
  return growthUm.value - shifts.reduce((sum, shift) => sum + shift, 0) / gratings.length
}

function explain([chosen, ...rivals]: readonly GrowthModel[], rungs: number): string {
  const said = rivals.map(({ model, weight, criterion }) =>
    weight === 0
      ? `the ${model} one would have growth fall as exposure rises`
      : `${(criterion - chosen!.criterion).toFixed(1)} below the ${model} one`,
  )
  const few = rungs < FEWEST_FOR_QUADRATIC ? [`a quadratic needs ${FEWEST_FOR_QUADRATIC} rungs that can be read`] : []
  return `${chosen!.model}: lowest criterion; ${[...said, ...few].join('; ')}`
}

function requireRungs(rungs: readonly GrowthRung[], commonUncertaintyUm: number): void {
  const need = (what: string, got: unknown) => new RangeError(`fitGrowth needs ${what}, got ${got}`)
  for (const { exposureS, growthUm } of rungs) {
    if (!(exposureS > 0 && exposureS < Infinity)) throw need('exposures above 0 s', exposureS)
    if (!Number.isFinite(growthUm.value)) throw need('finite growth in um', growthUm.value)
    const u = growthUm.standardUncertainty
    if (!(u > 0 && u < Infinity)) throw need('standard uncertainties above 0 um', u)
  }
  if (!(commonUncertaintyUm >= 0 && commonUncertaintyUm < Infinity)) {
    throw need('a common uncertainty of at least 0 um', commonUncertaintyUm)
  }
}
