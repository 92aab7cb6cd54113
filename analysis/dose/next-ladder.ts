import { planLadder } from './first-ladder.js'
import { evaluateGrowth, rungRangeS, type GrowthFit } from './growth-fit.js'

/** What to print next, and why. */
export interface NextLadder {
  readonly exposuresS: readonly number[]
  readonly why: string
  /** The same for programs: `again` the same range, `lower` or `higher` beyond an end, `wider`, `opened` below closed coupons, `surer` to know the same better. */
  readonly reason: 'again' | 'lower' | 'higher' | 'wider' | 'opened' | 'surer'
}

/** A guess beyond the rungs is followed no further than this factor; a line read off its own end is not trusted more. */
const FARTHEST = 3
const RUNGS = 6

/**
 * Ladder to print when too few rungs could be read: the same range again.
 *
 * @param exposuresS all that were printed, read or not; one is enough
 */
export function repeatLadder(exposuresS: readonly number[], timeStepS: number): NextLadder {
  const [low, high] = [Math.min(...exposuresS), Math.max(...exposuresS)]
  return {
    exposuresS: planLadder({ centreS: Math.sqrt(low * high), ratio: spread(high / low), rungs: RUNGS, timeStepS }),
    why: 'the range just printed, with enough rungs to lose some',
    reason: 'again',
  }
}

/**
 * Ladder to print when dose-to-size lies beyond a rung: centred where the fit, followed at most by a factor of 3 past
 * that rung, puts it, and reaching back to the rung.
 */
export function shiftedLadder(fit: GrowthFit, side: 'low' | 'high', timeStepS: number): NextLadder {
  const endS = rungRangeS(fit)[side === 'low' ? 0 : 1]
  const { growthUm, slopeUm } = evaluateGrowth(fit.chosen, Math.log(endS / fit.referenceS))
  const distance = Math.min(Math.abs(growthUm / slopeUm), Math.log(FARTHEST))
  const centreS = endS * Math.exp(side === 'low' ? -distance : distance)
  return {
    exposuresS: planLadder({ centreS, ratio: spread(Math.exp(2 * distance)), rungs: RUNGS, timeStepS }),
    why: `reaches from the ${side === 'low' ? 'lowest' : 'highest'} rung to beyond where the fit points`,
    reason: side === 'low' ? 'lower' : 'higher',
  }
}

/**
 * Ladder to print when growth does not visibly rise: twice as wide, moved to the end that is nearer to size if every
 * rung is off to the same side.
 */
export function widerLadder(fit: GrowthFit, timeStepS: number): NextLadder {
  const [low, high] = rungRangeS(fit)
  const offs = fit.rungs.map(({ growthUm }) => Math.sign(growthUm.value))
  const allBig = offs.every((sign) => sign > 0)
  const allSmall = offs.every((sign) => sign < 0)
  const centreS = allBig ? low : allSmall ? high : Math.sqrt(low * high)
  return {
    exposuresS: planLadder({ centreS, ratio: spread((high / low) ** 2), rungs: RUNGS, timeStepS }),
    why: 'wide enough for growth to show, as it did not within this range',
    reason: 'wider',
  }
}

/**
 * Ladder to print when coupons closed: below the lowest that did, down to a third of the lowest printed.
 *
 * @param closedS exposures of the closed coupons, at least one
 * @param printedS all that were printed
 */
export function openerLadder(closedS: readonly number[], printedS: readonly number[], timeStepS: number): NextLadder {
  const highS = Math.min(...closedS)
  const lowS = Math.min(...printedS) / FARTHEST
  return {
    exposuresS: planLadder({ centreS: Math.sqrt(lowS * highS), ratio: spread(highS / lowS), rungs: RUNGS, timeStepS }),
    why: 'lower, as coupons came out closed',
    reason: 'opened',
  }
}

/** Ratio of neighbours that spreads six rungs over a factor, at least 1.15: closer ones differ less than they scatter. */
function spread(factor: number): number {
  return Math.max(1.15, factor ** (1 / (RUNGS - 1)))
}
