import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import type { Outcome } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import { lightTerms } from './cell-model.js'
import { atWidth, shareBeyond } from './scatter-lobe.js'
import {
  BLUR,
  FINE,
  lightAt,
  LOG_VEIL,
  MEDIUM,
  PARAMETERS,
  SCATTERED,
  SMEAR,
  VEIL_SLOPE,
  WIDTH,
  windowModel,
  type WindowProblem,
} from './window-model.js'

/** ln of the radius on the paper within which half of the scattered light lands, mm. */
export interface LogWidth {
  readonly mean: number
  readonly standardUncertainty: number
}

export interface FittedWindow {
  /** Share of the transmitted light that is scattered by more than 2.5 degrees. */
  readonly haze: Estimate
  readonly logWidth: LogWidth
  /** Amplitude kept of each bar group, of the light that comes through. */
  readonly kept: { readonly fine: Estimate; readonly medium: Estimate; readonly across: Estimate }
  /** Share of the bars' amplitude across the build lost to what does not touch bars along it. */
  readonly surface: Estimate
  /** Light through the window, scattered light included, and light mirrored by it; shares of bare paper's. */
  readonly transmission: Estimate
  readonly veil: Estimate
  /** Change of the mirrored light from the left to the right side of the target. */
  readonly veilSlope: Estimate
  /** Relative misfit of each visible white cell: shadows, marks. */
  readonly misfits: readonly number[]
  /** What was fitted, for a prediction of each place: light and mirrored light as on the sensor, lengths on the paper. */
  readonly model: {
    /** Coefficients of `lightTerms`. */
    readonly light: readonly number[]
    readonly veil: number
    readonly veilSlope: number
    readonly scattered: number
    readonly widthMm: number
    readonly blurMm: number
    readonly smearMm: number
  }
}

/** Light deviated by more than this is haze in ASTM D1003 (0.044 rad). */
const HAZE_ANGLE = Math.tan((2.5 * Math.PI) / 180)
/** Of paper light, across one size of the target. Windows of path-traced coupons: 0.05 in slope, 0.05 and less in bend. */
const LIGHT_SPREAD = [0.2, 0.2, 0.02, 0.02, 0.02]
/** How far the light on one bar group may leave that smooth surface. */
const LOCAL_SPREAD = 0.02
/**
 * Mirrored surroundings, from a dark ceiling to a bright wall: two faces mirror 0.08 of them (Fresnel), e^0.5 more or
 * less, never less than nothing; and how far they change across the target.
 */
const VEIL_PRIOR = { mean: 0.08, logSpread: 0.5, slope: 0.02 }
/** Two faces of resin let 0.92 through (Fresnel); the plate also shades the paper, and dark resin takes more. */
const LIGHT_PRIOR = { mean: 0.85, spread: 0.12 }
/** The model's lobe may not be the resin's: lobes of other widths and of another law moved the index by about this, layer lines that blur all bars across it too. */
const MODEL = { absolute: 0.004, relative: 0.06, byRelief: 0.03 }
const SURFACE_TYPE_B = 0.02
/** ln of the spread along the build, mm on the paper: layer lines of 0.1 to 3 um. */
const SMEAR_PRIOR = { mean: Math.log(0.2), standardUncertainty: 1 }

/**
 * Haze, mirrored light and what bars keep of one window, by the model of {@link windowModel}.
 *
 * A black patch as small as the lobe is lit by what is scattered from the paper around it; taken for black it would hide a
 * third of the haze. How the light falls off inside it tells the lobe's width, which a very wide or narrow lobe leaves to
 * what is known beforehand.
 *
 * @param known of the lobe's width
 */
export function fitWindow(problem: WindowProblem, known: LogWidth): Outcome<FittedWindow> {
  const { seen, bare, plan, target, lobes, distanceMm } = problem
  const model = windowModel(problem)
  const { white } = bare
  const fit = minimizeSquares(
    model.evaluate,
    [
      LIGHT_PRIOR.mean * white,
      0,
      0,
      0,
      0,
      0,
      Math.log(VEIL_PRIOR.mean),
      0.1,
      known.mean,
      0.02,
      0,
      0,
      SMEAR_PRIOR.mean,
      0,
    ],
    model.residuals,
    {
      tolerance: 1e-6,
      priors: [
        ...LIGHT_SPREAD.map((spread, i) => ({ index: i + 1, mean: 0, standardUncertainty: spread * white })),
        { index: 0, mean: LIGHT_PRIOR.mean * white, standardUncertainty: LIGHT_PRIOR.spread * white },
        { index: VEIL_SLOPE, mean: 0, standardUncertainty: VEIL_PRIOR.slope * white },
        { index: LOG_VEIL, mean: Math.log(VEIL_PRIOR.mean), standardUncertainty: VEIL_PRIOR.logSpread },
        { index: WIDTH, ...known },
        { index: SMEAR, ...SMEAR_PRIOR },
        { index: BLUR, mean: 0, standardUncertainty: 1 },
        { index: FINE, mean: 0, standardUncertainty: LOCAL_SPREAD },
        { index: MEDIUM, mean: 0, standardUncertainty: LOCAL_SPREAD },
      ],
    },
  )
  if (!fit.ok) return fit
  const p = fit.value.parameters
  const scale = Math.max(1, fit.value.rss / fit.value.degreesOfFreedom)
  const covariance = (i: number, j: number) => scale * fit.value.unscaledCovariance[i * PARAMETERS + j]!
  const spread = (i: number) => Math.sqrt(covariance(i, i))

  const veil = Math.exp(p[LOG_VEIL]!)
  const scattered = p[SCATTERED]!
  const radius = HAZE_ANGLE * distanceMm
  const beyond = shareBeyond(radius, Math.exp(p[WIDTH]!))
  const blurMm = (target.fine.pitchMm * Math.sqrt(Math.max(1e-9, p[BLUR]!) / 2)) / Math.PI
  const exponent = radius ** 2 / (2 * blurMm ** 2)
  const narrowBeyond = Math.exp(-exponent)
  const gradient = [
    [SCATTERED, beyond - narrowBeyond],
    [WIDTH, 2 * scattered * beyond * (1 - beyond)],
    [BLUR, p[BLUR]! > 0 ? ((1 - scattered) * narrowBeyond * exponent) / p[BLUR]! : 0],
  ] as const
  const variance = gradient.reduce(
    (sum, [i, a]) => sum + gradient.reduce((inner, [j, b]) => inner + a * b * covariance(i, j), 0),
    0,
  )
  const haze = scattered * beyond + (1 - scattered) * narrowBeyond

  const rough = (kept: number) => MODEL.byRelief * Math.max(0, 1 - kept) ** 2
  const fraction = ({ value, standardUncertainty }: Estimate, whole: number, typeB: number): Estimate => ({
    value: value / whole,
    standardUncertainty: Math.hypot(standardUncertainty / whole, (typeB * value) / whole),
  })
  const lit = (group: 'fine' | 'medium') => {
    const area = plan.cells.find((cell) => cell.group === group)!.areaMm
    const local = group === 'fine' ? p[FINE]! : p[MEDIUM]!
    return (1 + local) * lightAt(p, lightTerms(area, plan)) * bare.amplitude[group]
  }
  const acrossLit = lightAt(p, lightTerms(plan.barsMm.across, plan)) * bare.amplitude.across
  const across = fraction(seen.across, acrossLit, SURFACE_TYPE_B)
  const [inLobe] = atWidth(lobes.across, p[WIDTH]!)
  const smooth = 1 - scattered + scattered * inLobe
  return {
    ok: true,
    value: {
      haze: {
        value: haze,
        standardUncertainty: Math.hypot(
          Math.sqrt(variance),
          MODEL.absolute,
          MODEL.relative * haze,
          rough(across.value / smooth),
        ),
      },
      logWidth: { mean: p[WIDTH]!, standardUncertainty: spread(WIDTH) },
      kept: {
        fine: fraction(seen.fine, lit('fine'), 0.005),
        medium: fraction(seen.medium, lit('medium'), 0.005),
        across,
      },
      surface: {
        value: 1 - across.value / smooth,
        standardUncertainty: Math.hypot(across.standardUncertainty, spread(SCATTERED) * (1 - inLobe)) / smooth,
      },
      transmission: { value: p[0]! / white, standardUncertainty: spread(0) / white },
      veil: { value: veil, standardUncertainty: veil * spread(LOG_VEIL) },
      veilSlope: { value: p[VEIL_SLOPE]! / white, standardUncertainty: spread(VEIL_SLOPE) / white },
      misfits: model.misfits(p),
      model: {
        light: Array.from(p.subarray(0, 6)),
        veil: veil * white,
        veilSlope: p[VEIL_SLOPE]!,
        scattered,
        widthMm: Math.exp(p[WIDTH]!),
        blurMm,
        smearMm: Math.exp(p[SMEAR]!),
      },
    },
  }
}
