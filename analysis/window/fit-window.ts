import type { RegionMm } from '../image/region.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import type { BarTarget } from '../layout/schema.js'
import type { Outcome } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import type { BareLight } from './bare-light.js'
import { CELL_MODEL, lightTerms } from './cell-model.js'
import type { MeasuredTarget } from './measure-target.js'
import { atWidth, shareBeyond, type ByWidth, type LobeTable } from './scatter-lobe.js'
import type { Cell, TargetPlan } from './target-cells.js'

/** One window's target and all that is known of it beforehand. */
export interface WindowProblem {
  readonly seen: MeasuredTarget
  readonly bare: BareLight
  readonly plan: TargetPlan
  readonly lobes: LobeTable
  readonly target: BarTarget
  readonly inkGainMm: number
  /** Which cells lie well inside the window as seen, one a cell of the plan. */
  readonly visible: readonly boolean[]
  /** From the scattering window to the paper, mm of air. */
  readonly distanceMm: number
}

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
const [LOG_VEIL, SCATTERED, WIDTH, BLUR, FINE, MEDIUM, SMEAR, VEIL_SLOPE] = [6, 7, 8, 9, 10, 11, 12, 13]
const PARAMETERS = 14
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
/** Borders lie near the window's edges, where grooves and walls throw shadows. */
const BORDER_FLOOR = 0.01
/** The model's lobe may not be the resin's: lobes of other widths and of another law moved the index by about this, layer lines that blur all bars across it too. */
const MODEL = { absolute: 0.004, relative: 0.06, byRelief: 0.03 }
const SURFACE_TYPE_B = 0.02
/** Slopes of layer lines are not normally distributed: where exp(-k^2/2) of the bars would be left, a sine on either face leaves J0(k)^2, 0.09 less at most. */
const SMEAR_FORM = 0.05
/** ln of the spread along the build, mm on the paper: layer lines of 0.1 to 3 um. */
const SMEAR_PRIOR = { mean: Math.log(0.2), standardUncertainty: 1 }

/**
 * What lies between a bare target and its picture through a window, fitted to patches, borders and bars together:
 *
 *   level     = S(x, y) [(1 - H) (R * smear) + H (R * lobe)] + v(x)
 *   amplitude = S(x, y) A [(1 - H) exp(-q p_fine^2 / p^2) + H lobe^(1/p)]
 *
 * R the known reflectance of the whole target, A the bars' bare amplitude, S a smooth light, v the mirrored light, H the
 * scattered share, the lobe of {@link LobeTable}, the smear what layer lines do along y, q narrow blur along x. A black patch as small as the lobe is lit by
 * what is scattered from the paper around it; taken for black it would hide a third of the haze. How the light falls off
 * inside it tells the lobe's width, which a very wide or narrow lobe leaves to what is known beforehand.
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

const lightAt = (p: Float64Array, terms: readonly number[]): number =>
  terms.reduce((sum, term, j) => sum + term * p[j]!, 0)

/** What all rows of the fit have. */
interface Row {
  readonly measured: number
  readonly unit: number
  readonly terms: readonly number[]
  readonly lobe: ByWidth
  readonly smeared: ByWidth
  /** 1 where mirrored light is seen; it leaves amplitudes alone. */
  readonly veil: 0 | 1
  /** Parameter of the light on the row alone; -1 for none. */
  readonly local: number
}

interface CellRow extends Row {
  readonly group: Cell['group']
  readonly spread: number
}

interface BarRow extends Row {
  readonly amplitude: number
  readonly blur: number
}

/** Residuals of all visible cells, then those of the two bar groups along the build, with their derivatives. */
function windowModel({ seen, bare, plan, lobes, target, inkGainMm, visible }: WindowProblem) {
  const { white } = bare
  const cells = plan.cells.flatMap((cell, i): CellRow[] => {
    if (!visible[i]) return []
    const measured = seen.cells[i]!
    const floor = cell.group === 'border' ? BORDER_FLOOR : CELL_MODEL.floor
    return [
      {
        group: cell.group,
        measured: measured.value,
        // Of white also in black, which is lit by what is scattered from the paper around.
        unit: 1 / Math.hypot(measured.standardUncertainty, floor * white),
        terms: lightTerms(cell.areaMm, plan),
        // Ink that spreads widens every bar by the same share of its coverage.
        spread:
          cell.group === 'fine' || cell.group === 'medium' ? 2 * CELL_MODEL.coverage(cell.group, target, inkGainMm) : 1,
        smeared: lobes.smeared.cells[i]!,
        lobe: lobes.cells[i]!,
        veil: 1,
        local: cell.group === 'fine' ? FINE : cell.group === 'medium' ? MEDIUM : -1,
      },
    ]
  })
  const barsOf = (group: 'fine' | 'medium' | 'across', area: RegionMm, floor: number, local: number): BarRow => ({
    measured: seen[group].value,
    unit: 1 / Math.hypot(seen[group].standardUncertainty, floor * bare.white * bare.amplitude[group]),
    terms: lightTerms(area, plan),
    amplitude: bare.amplitude[group],
    // Narrow blur is that of x; along y it is part of the smear.
    blur: group === 'across' ? 0 : (target.fine.pitchMm / target[group].pitchMm) ** 2,
    lobe: lobes[group],
    smeared: lobes.smeared[group],
    veil: 0,
    local,
  })
  const areaOf = (group: 'fine' | 'medium') => plan.cells.find((cell) => cell.group === group)!.areaMm
  const bars = [
    barsOf('fine', areaOf('fine'), CELL_MODEL.floor, FINE),
    barsOf('medium', areaOf('medium'), CELL_MODEL.floor, MEDIUM),
    barsOf('across', plan.barsMm.across, SMEAR_FORM, -1),
  ]
  const all = cells.length + bars.length
  return {
    residuals: all,
    evaluate: evaluateWindow.bind(undefined, cells, bars, bare),
    misfits: (p: Float64Array): number[] =>
      cells
        .filter(({ group }) => group === 'white' || group === 'border')
        .map((cell) => {
          const veil = white * Math.exp(p[LOG_VEIL]!) + p[VEIL_SLOPE]! * cell.terms[1]!
          const light = lightAt(p, cell.terms) * level(p, cell, bare).mix + veil
          return cell.measured / light - 1
        }),
  }
}

function evaluateWindow(
  cells: readonly CellRow[],
  bars: readonly BarRow[],
  bare: BareLight,
  p: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  jacobian.fill(0, 0, residuals.length * PARAMETERS)
  const mirrored = bare.white * Math.exp(p[LOG_VEIL]!)
  for (const [i, cell] of cells.entries()) writeRow(i, cell, level(p, cell, bare), mirrored, p, residuals, jacobian)
  for (const [k, bar] of bars.entries()) writeRow(cells.length + k, bar, kept(p, bar), mirrored, p, residuals, jacobian)
}

/** What of the light comes through, with its derivatives. */
interface Passed {
  readonly mix: number
  readonly byScattered: number
  readonly byWidth: number
  readonly bySmear: number
  readonly byBlur: number
}

function level(p: Float64Array, { lobe, smeared, spread }: CellRow, { black }: BareLight): Passed {
  const [covered, slope] = atWidth(lobe, p[WIDTH]!)
  const [coveredSharp, smearSlope] = atWidth(smeared, p[SMEAR]!)
  const seenInLobe = 1 - covered * (1 - black)
  const direct = 1 - coveredSharp * spread * (1 - black)
  return {
    mix: (1 - p[SCATTERED]!) * direct + p[SCATTERED]! * seenInLobe,
    byScattered: seenInLobe - direct,
    byWidth: -p[SCATTERED]! * slope * (1 - black),
    bySmear: -(1 - p[SCATTERED]!) * smearSlope * spread * (1 - black),
    byBlur: 0,
  }
}

function kept(p: Float64Array, { blur, lobe, smeared, amplitude }: BarRow): Passed {
  const [inLobe, slope] = atWidth(lobe, p[WIDTH]!)
  const [left, smearSlope] = atWidth(smeared, p[SMEAR]!)
  const unsmeared = Math.exp(-blur * p[BLUR]!)
  const sharp = left * unsmeared
  return {
    mix: amplitude * ((1 - p[SCATTERED]!) * sharp + p[SCATTERED]! * inLobe),
    byScattered: amplitude * (inLobe - sharp),
    byWidth: amplitude * p[SCATTERED]! * slope,
    bySmear: amplitude * (1 - p[SCATTERED]!) * smearSlope * unsmeared,
    byBlur: -amplitude * (1 - p[SCATTERED]!) * blur * sharp,
  }
}

function writeRow(
  i: number,
  { terms, local: localAt, veil, unit, measured }: Row,
  { mix, byScattered, byWidth, bySmear, byBlur }: Passed,
  mirrored: number,
  p: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  const smooth = lightAt(p, terms)
  const local = localAt < 0 ? 1 : 1 + p[localAt]!
  const light = smooth * local
  residuals[i] = (light * mix + veil * (mirrored + p[VEIL_SLOPE]! * terms[1]!) - measured) * unit
  const at = i * PARAMETERS
  for (let j = 0; j < 6; j++) jacobian[at + j] = terms[j]! * local * mix * unit
  jacobian[at + LOG_VEIL] = veil * mirrored * unit
  jacobian[at + VEIL_SLOPE] = veil * terms[1]! * unit
  jacobian[at + SCATTERED] = light * byScattered * unit
  jacobian[at + WIDTH] = light * byWidth * unit
  jacobian[at + SMEAR] = light * bySmear * unit
  jacobian[at + BLUR] = light * byBlur * unit
  if (localAt >= 0) jacobian[at + localAt] = smooth * mix * unit
}
