import { planLadder } from './first-ladder.js'
import { doseGain, transferRatios } from './layer-transfer.js'

/** A penetration depth and how well it is known. */
export interface KnownDepth {
  readonly valueUm: number
  /** 95 %, um. */
  readonly intervalUm: readonly [number, number]
}

export interface LayerChange {
  /** Exposure that is right at the first height, s, with its 95 % interval where one is known. */
  readonly exposureS: number
  readonly intervalS?: readonly [number, number] | undefined
  readonly fromUm: number
  readonly toUm: number
  /** Of the cured stack in this printer. Absent: unknown, see `UNKNOWN_DEPTH`. */
  readonly depth?: KnownDepth | undefined
  /** Print-through at the exposure, um: how far the side printed later has sunk into a gap. */
  readonly printThroughUm?: number | undefined
  /** Growth per side and unit of ln(exposure), um. */
  readonly growthSlopeUm?: number | undefined
  /** The printer's smallest step of layer exposure, s. Default 0.1. */
  readonly timeStepS?: number | undefined
}

/** What one rule says, and what comes of it. */
export interface RuleAnswer {
  readonly rule: 'bond' | 'accumulated'
  readonly exposureS: number
  /** s; 95 % where depth and exposure have been measured, otherwise the whole range of the depths that may be. */
  readonly intervalS: readonly [number, number]
  /** Accumulated dose at the near face of a layer, over that at the first height. */
  readonly accumulatedDoseRatio: number
  /** How much farther, um, a layer cures beyond its own height than at the first height. */
  readonly overcureChangeUm: number
  /** How far a layer cures beyond its own height; below zero it does not reach the one before. Needs print-through, see `note`. */
  readonly overcureUm?: number
  readonly printThroughUm?: number
  readonly printThroughChangeUm: number
  /** Growth per side over that at the first height, um. Needs the slope of growth. */
  readonly growthChangeUm?: number
  /** What this exposure risks. */
  readonly risk: string
}

export interface LayerAnswer {
  readonly depth: KnownDepth
  readonly depthIs: 'known' | 'unknown'
  readonly bond: RuleAnswer
  readonly accumulated: RuleAnswer
  /** s; lowest to highest exposure that either rule allows. The truth lies between the rules. */
  readonly bracketS: readonly [number, number]
  /** s; three rungs to print at the new height. */
  readonly confirmingLadderS: readonly number[]
  readonly inWords: string
  /** What could not be told, and why. */
  readonly note?: string
}

/**
 * What is taken for the penetration depth when nobody knows it, um: liquids at 405 nm run from 30 um with absorber to
 * 400 um without (J. L. Gong et al., open spectra), and print-through of clear resin has shown more.
 */
export const UNKNOWN_DEPTH: KnownDepth = { valueUm: 250, intervalUm: [50, 600] }

/** Closer rungs than this differ less than they scatter. */
const LEAST_RATIO = 1.1

/**
 * Exposure at another layer height.
 *
 * Two rules bracket the truth. Bond: each layer's own light must reach as strongly into the one before,
 * t2 = t1 exp((h2 - h1) / Dp). Accumulated: all light that a place gets must add up to the same,
 * t2 = t1 (1 - exp(-h2 / Dp)) / (1 - exp(-h1 / Dp)), which governs growth, gaps and haze of clear resin. They part the
 * more, the clearer the resin; a ladder at the new height decides.
 *
 * Intervals combine those of exposure and depth as independent when the depth is known; an unknown depth may lie anywhere
 * in its range, so the ends add up.
 *
 * @throws {RangeError} if a height, exposure, depth or end of an interval is not above 0
 */
export function changeLayerHeight(change: LayerChange): LayerAnswer {
  const { exposureS, intervalS = [exposureS, exposureS], fromUm, toUm, depth = UNKNOWN_DEPTH } = change
  const { timeStepS = 0.1 } = change
  for (const value of [exposureS, ...intervalS, ...depth.intervalUm]) {
    if (!(value > 0 && value < Infinity)) {
      throw new RangeError(`changeLayerHeight needs exposures, depths and their intervals above 0, got ${value}`)
    }
  }
  const known = change.depth !== undefined
  const answer = (rule: RuleAnswer['rule']): RuleAnswer => {
    const ratioAt = (depthUm: number) => {
      const { bond, accumulatedNear } = transferRatios(fromUm, toUm, depthUm)
      return rule === 'bond' ? bond : accumulatedNear
    }
    const ratio = ratioAt(depth.valueUm)
    const ends = depth.intervalUm.map((depthUm) => Math.log(ratioAt(depthUm) / ratio)).sort((a, b) => a - b)
    const reach = (end: 0 | 1) => {
      const [own, ofDepth] = [Math.log(intervalS[end] / exposureS), ends[end]!]
      const both = known ? Math.sign(own + ofDepth) * Math.hypot(own, ofDepth) : own + ofDepth
      return exposureS * ratio * Math.exp(both)
    }
    return {
      rule,
      exposureS: exposureS * ratio,
      intervalS: [reach(0), reach(1)],
      ...consequences(change, depth, rule, ratio),
    }
  }
  const [bond, accumulated] = [answer('bond'), answer('accumulated')]
  const bracketS = [
    Math.min(bond.intervalS[0], accumulated.intervalS[0]),
    Math.max(bond.intervalS[1], accumulated.intervalS[1]),
  ] as const
  const [low, high] = [bond.exposureS, accumulated.exposureS].sort((a, b) => a - b) as [number, number]
  const confirmingLadderS = planLadder({
    centreS: Math.sqrt(low * high),
    ratio: Math.max(LEAST_RATIO, Math.sqrt(high / low)),
    rungs: 3,
    timeStepS,
  })
  return {
    depth,
    depthIs: known ? 'known' : 'unknown',
    bond,
    accumulated,
    bracketS,
    confirmingLadderS,
    ...((overcureFrom(change.printThroughUm, fromUm, depth.valueUm) ?? 0) < 0 ? { note: NO_OVERCURE } : {}),
    inWords:
      `Between ${seconds(low)} and ${seconds(high)} at ${toUm} um layers` +
      (known
        ? `, for a penetration depth of ${Math.round(depth.valueUm)} um.`
        : `: the penetration depth is not known and was taken as ${depth.intervalUm.join(' to ')} um, so ${seconds(bracketS[0])} to ${seconds(bracketS[1])} is possible.`) +
      ` Print ${confirmingLadderS.join(', ')} s to decide.`,
  }
}

function consequences(
  { fromUm, toUm, printThroughUm, growthSlopeUm }: LayerChange,
  { valueUm: depthUm }: KnownDepth,
  rule: RuleAnswer['rule'],
  ratio: number,
): Omit<RuleAnswer, 'rule' | 'exposureS' | 'intervalS'> {
  const accumulatedDoseRatio = (ratio * doseGain(toUm, depthUm)) / doseGain(fromUm, depthUm)
  const overcureChangeUm = depthUm * Math.log(ratio) - (toUm - fromUm)
  const printThroughChangeUm = depthUm * Math.log(accumulatedDoseRatio)
  const before = overcureFrom(printThroughUm, fromUm, depthUm)
  const overcureUm = before === undefined || before < 0 ? undefined : before + overcureChangeUm
  return {
    accumulatedDoseRatio,
    overcureChangeUm,
    ...(overcureUm === undefined ? {} : { overcureUm }),
    ...(printThroughUm === undefined ? {} : { printThroughUm: printThroughUm + printThroughChangeUm }),
    printThroughChangeUm,
    ...(growthSlopeUm === undefined ? {} : { growthChangeUm: growthSlopeUm * Math.log(accumulatedDoseRatio) }),
    risk: riskOf(rule, toUm < fromUm, overcureChangeUm, accumulatedDoseRatio),
  }
}

/**
 * How far a layer cures beyond its own height, from print-through: that of its own exposure is what the stack has not
 * added, Dp ln(gain). Below zero the layers of a part that holds together would not meet: then the light of later layers
 * adds up to less than its sum, as it may when oxygen comes back between exposures.
 */
function overcureFrom(printThroughUm: number | undefined, layerUm: number, depthUm: number): number | undefined {
  if (printThroughUm === undefined) return undefined
  return printThroughUm - depthUm * Math.log(doseGain(layerUm, depthUm)) - layerUm
}

const NO_OVERCURE =
  'Overcure cannot be told from print-through: it is less than the light of all layers adds up to, so part of that light is lost between layers.'

function riskOf(rule: RuleAnswer['rule'], thinner: boolean, overcureChangeUm: number, dose: number): string {
  const times = `${dose.toFixed(2)} times the accumulated dose`
  const bond = `${Math.abs(Math.round(overcureChangeUm))} um ${overcureChangeUm < 0 ? 'less' : 'more'} overcure`
  if (rule === 'bond') {
    return thinner
      ? `${times}: walls may swell, gaps close, print-through and haze grow.`
      : `${times}: walls may come out thin, and narrow ones fall.`
  }
  return thinner
    ? `${bond}: layers may bond weakly and part, above all while they are few.`
    : `${bond}: safe for the bond, but the first layers and thin roofs cure deep.`
}

const seconds = (value: number) => `${Number(value.toPrecision(3))} s`
