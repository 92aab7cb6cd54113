import type { RegionMm } from '../image/region.js'
import type { BarTarget } from '../layout/schema.js'
import type { BareLight } from './bare-light.js'
import { CELL_MODEL, lightTerms } from './cell-model.js'
import type { MeasuredTarget } from './measure-target.js'
import { atWidth, type ByWidth, type LobeTable } from './scatter-lobe.js'
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

/** Parameters after the six of `lightTerms`. */
export const [LOG_VEIL, SCATTERED, WIDTH, BLUR, FINE, MEDIUM, SMEAR, VEIL_SLOPE] = [6, 7, 8, 9, 10, 11, 12, 13]
export const PARAMETERS = 14
/** Borders lie near the window's edges, where grooves and walls throw shadows. */
const BORDER_FLOOR = 0.01
/** Slopes of layer lines are not normally distributed: where exp(-k^2/2) of the bars would be left, a sine on either face leaves J0(k)^2, 0.09 less at most. */
const SMEAR_FORM = 0.05

/** Light at a place, by the first parameters. @param terms of `lightTerms` */
export const lightAt = (p: Float64Array, terms: readonly number[]): number =>
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

/**
 * What lies between a bare target and its picture through a window, for patches, borders and bars together:
 *
 *   level     = S(x, y) [(1 - H) (R * smear) + H (R * lobe)] + v(x)
 *   amplitude = S(x, y) A [(1 - H) exp(-q p_fine^2 / p^2) + H lobe^(1/p)]
 *
 * R the known reflectance of the whole target, A the bars' bare amplitude, S a smooth light, v the mirrored light, H the
 * scattered share, the lobe of {@link LobeTable}, the smear what layer lines do along y, q narrow blur along x.
 *
 * @returns residuals of all visible cells, then of the three groups of bars, with their derivatives
 */
export function windowModel({ seen, bare, plan, lobes, target, inkGainMm, visible }: WindowProblem) {
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
