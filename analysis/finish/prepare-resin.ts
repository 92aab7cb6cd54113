import { refuse, type Refusal } from '../outcome.js'
import { ASSUMED, assumed, type Assumed, type AssumedName } from './assumed.js'
import { requirePositive } from './radiant-exposure.js'

type Range = readonly [number, number]

export interface PrepareRequest {
  /** Of the resin as it stands, degrees C. */
  readonly resinC: number
  /** From the data sheet, mPa s; absent leaves out the rise of bubbles. */
  readonly viscosityMPaS?: number | undefined
  /** Temperature the data sheet gives it at, degrees C. Default 25. */
  readonly viscosityAtC?: number | undefined
  /** Height of the resin in bottle or vat, mm. Default 100. */
  readonly depthMm?: number | undefined
  /** Smallest bubble that must have left, um across. Default 300, a guess. */
  readonly bubbleUm?: number | undefined
  /** Temperatures the resin is printed at, from its data sheet, degrees C. Default 20 to 35, common practice. */
  readonly windowC?: Range | undefined
}

export interface Preparation {
  /** Viscosity over that at the best temperature, for the range of activation energies. */
  readonly viscosityRatio: Range
  /** Middle of the window. */
  readonly bestC: number
  /** Time for the bubbles to rise through the depth as the resin stands, min; absent without a viscosity. */
  readonly standMin?: Range | undefined
  /** The same once warmed to the best temperature. */
  readonly standWarmMin?: Range | undefined
  /** What the answer took because nobody gave it. */
  readonly assumed: readonly Assumed[]
  readonly warnings: readonly Refusal[]
}

const GAS_J_PER_MOL_K = 8.314
const ZERO_C_IN_K = 273.15
/** Where resin is printed, degrees C; common practice, no source. */
const WINDOW_C: Range = [20, 35]
const GRAVITY = 9.81
/** A clean bubble, whose surface flows, rises 1.5 times as fast as one stiffened by what floats on it (Hadamard, Rybczynski). */
const CLEAN_OVER_STIFF = 1.5

/**
 * Viscosity at one temperature over that at another, Arrhenius: exp(Ea / R (1 / T - 1 / T0)).
 *
 * @example viscosityRatio(25, 30, 45_000) // 1.349
 */
export function viscosityRatio(atC: number, overC: number, activationJPerMol: number): number {
  return Math.exp((activationJPerMol / GAS_J_PER_MOL_K) * (1 / (atC + ZERO_C_IN_K) - 1 / (overC + ZERO_C_IN_K)))
}

/**
 * Speed at which a small stiff bubble rises, Stokes: 2 r^2 rho g / 9 eta, m/s.
 *
 * @throws {RangeError} if an argument is not above 0
 */
export function bubbleRiseMPerS(
  diameterUm: number,
  viscosityMPaS: number,
  densityKgPerM3: number = ASSUMED.densityKgPerM3.value,
): number {
  requirePositive('bubbleRiseMPerS', { diameterUm, viscosityMPaS, densityKgPerM3 })
  const radiusM = diameterUm / 2e6
  return (2 * radiusM ** 2 * densityKgPerM3 * GRAVITY) / (9 * (viscosityMPaS / 1000))
}

/**
 * What the resin's temperature does to its flow, and how long bubbles need to leave it.
 *
 * @returns ranges over the usual activation energies, and for bubbles over clean and stiff ones
 * @throws {RangeError} if a size or viscosity is not above 0
 */
export function prepareResin(request: PrepareRequest): Preparation {
  const { resinC, viscosityMPaS, viscosityAtC = ASSUMED.viscosityAtC.value, depthMm = 100 } = request
  const { bubbleUm = ASSUMED.bubbleUm.value, windowC = WINDOW_C } = request
  const bestC = (windowC[0] + windowC[1]) / 2
  const ratios = (atC: number, overC: number) => {
    const [a, b] = ASSUMED.flowKJPerMol.value.map((energy) => viscosityRatio(atC, overC, 1000 * energy)) as [
      number,
      number,
    ]
    return [Math.min(a, b), Math.max(a, b)] as const
  }
  const standMin = (atC: number): Range | undefined => {
    if (viscosityMPaS === undefined) return undefined
    requirePositive('prepareResin', { depthMm })
    const [low, high] = ratios(atC, viscosityAtC)
    const minutes = (viscosity: number, faster: number) =>
      depthMm / 1000 / (faster * bubbleRiseMPerS(bubbleUm, viscosity)) / 60
    return [minutes(low * viscosityMPaS, CLEAN_OVER_STIFF), minutes(high * viscosityMPaS, 1)]
  }
  return {
    viscosityRatio: ratios(resinC, bestC),
    bestC,
    standMin: standMin(resinC),
    standWarmMin: standMin(bestC),
    assumed: assumed('flowKJPerMol', ...(viscosityMPaS === undefined ? [] : standingOn(request))),
    warnings: warningsOf(resinC, windowC),
  }
}

const standingOn = ({ viscosityAtC, bubbleUm }: PrepareRequest): AssumedName[] => [
  ...(viscosityAtC === undefined ? (['viscosityAtC'] as const) : []),
  ...(bubbleUm === undefined ? (['bubbleUm'] as const) : []),
  'densityKgPerM3',
]

function warningsOf(resinC: number, [low, high]: Range): Refusal[] {
  const detail = `${resinC} degrees C, wanted are ${low} to ${high}`
  if (resinC < low) {
    return [
      refuse(
        'resin-cold',
        'Warm the resin into its window: closed heater or warm room, slowly, no flame, no oven.',
        detail,
      ).refusal,
    ]
  }
  if (resinC > high) {
    return [
      refuse(
        'resin-hot',
        'Let the resin cool into its window, away from heat and sparks: hot resin can set by itself.',
        detail,
      ).refusal,
    ]
  }
  return []
}
