import { refuse, type Outcome } from '../outcome.js'
import { factorInPlace, invertFactored } from './cholesky.js'

/** Outcomes counted at one setting. */
export interface Trials {
  /** Shape (p), row of the design. */
  readonly x: readonly number[]
  readonly trials: number
  readonly successes: number
}

export interface LogisticFit {
  /** Shape (p). */
  readonly coefficients: readonly number[]
  /** Shape (p, p), inverse of the Fisher information. */
  readonly covariance: readonly (readonly number[])[]
  /** Maximum of what was maximised: the log-likelihood, with half the log-determinant of the information if penalised. */
  readonly logLikelihood: number
}

export interface LogisticOptions {
  /** Default true: Firth's penalty. False: plain maximum likelihood, which separated outcomes send to infinity. */
  readonly penalised?: boolean
  /** Holds one combination of the coefficients fixed: weights . coefficients = value. Default: none. */
  readonly fixed?: { readonly weights: readonly number[]; readonly value: number }
  /** Shape (p), where scoring starts. Default all 0. */
  readonly start?: readonly number[]
}

const MOST_STEPS = 200
const LARGEST_STEP = 50
/** Of ln(likelihood): leaves coefficients within 1e-7 of their standard uncertainty. */
const SMALLEST_GAIN = 1e-15
const LEAST_PIVOT = 1e-13
/** A fitted logit beyond it stands for a chance of 0 or 1: without a penalty, separated outcomes. */
const LARGEST_LOGIT = 20

/**
 * Logistic regression, logit(p) = x . b, with Firth's penalty: finite even when the outcomes are separated.
 *
 * A ladder is often separated: every wall above some width stands, every thinner one falls, and plain maximum likelihood
 * runs away to a step of infinite slope. Firth maximises l(b) + ln det I(b) / 2 instead, I the Fisher information X'WX.
 * It solves sum (y - m p + h (1/2 - p)) x = 0, h the diagonal of W^1/2 X I^-1 X' W^1/2, by Fisher scoring with halved
 * steps, and takes away the leading bias of the estimates besides.
 *
 * With `fixed`, scoring runs within the plane that the constraint leaves; the penalty stays that of all coefficients, as
 * a profile of the penalised likelihood needs.
 *
 * @param data at least one setting; successes from 0 to trials
 * @returns the fit, or the refusal `dependent-columns` when the settings cannot tell the coefficients apart, `no-maximum`
 *   when scoring does not settle (only without the penalty)
 * @throws {RangeError} if shapes differ or counts are not possible
 * @see D. Firth, Biometrika 80 (1993) 27; G. Heinze, M. Schemper, Stat. Med. 21 (2002) 2409 [from memory]
 * @example fitLogistic([{ x: [1, -1], trials: 1, successes: 0 }, { x: [1, 1], trials: 1, successes: 1 }]) // slope 1.10
 */
export function fitLogistic(data: readonly Trials[], options: LogisticOptions = {}): Outcome<LogisticFit> {
  requireTrials(data)
  const { penalised = true, fixed, start = data[0]!.x.map(() => 0) } = options
  const { origin, directions } = planeOf(start, fixed)
  const first = evaluate(data, origin, penalised)
  if (!first) return dependent()
  let at: Evaluated = first
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = scoringStep(at, directions)
    if (!move) return dependent()
    // The gain that a quadratic likelihood would still bring.
    const { score } = at
    const gain = move.reduce((sum, value, j) => sum + value * score[j]!, 0) / 2
    const next = gain < SMALLEST_GAIN ? undefined : improve(data, at, move, penalised)
    if (!next) return settle(data, at, penalised)
    at = next
  }
  return noMaximum()
}

/** 1 / (1 + exp(-x)) */
export const logistic = (x: number): number => 1 / (1 + Math.exp(-x))

interface Evaluated {
  readonly coefficients: readonly number[]
  readonly logLikelihood: number
  /** Shape (p), penalised if asked. */
  readonly score: readonly number[]
  /** Shape (p, p), row-major. */
  readonly information: Float64Array
  readonly inverse: Float64Array
}

function evaluate(data: readonly Trials[], b: readonly number[], penalised: boolean): Evaluated | undefined {
  const p = b.length
  const information = new Float64Array(p * p)
  const chances = new Float64Array(data.length)
  const weights = new Float64Array(data.length)
  let logLikelihood = 0
  // Plain loops: a search for an interval comes here thousands of times.
  for (let row = 0; row < data.length; row++) {
    const { x, trials, successes } = data[row]!
    let eta = 0
    for (let j = 0; j < p; j++) eta += x[j]! * b[j]!
    const small = Math.exp(-Math.abs(eta))
    // ln(1 + e^eta) without overflow.
    logLikelihood += successes * eta - trials * (Math.max(eta, 0) + Math.log1p(small))
    chances[row] = (eta > 0 ? 1 : small) / (1 + small)
    const weight = (trials * small) / (1 + small) ** 2
    weights[row] = weight
    for (let i = 0; i < p; i++) for (let j = 0; j <= i; j++) information[i * p + j]! += weight * x[i]! * x[j]!
  }
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) information[j * p + i] = information[i * p + j]!
  const factor = information.slice()
  if (!factorInPlace(factor, p, Number.MIN_VALUE)) return undefined
  // What the other columns leave of one: rounding alone leaves this much of a column that they reproduce.
  for (let i = 0; i < p; i++) if (factor[i * p + i]! ** 2 < LEAST_PIVOT * information[i * p + i]!) return undefined
  const inverse = invertFactored(factor, p)
  if (penalised) for (let i = 0; i < p; i++) logLikelihood += Math.log(factor[i * p + i]!)
  const score = new Array<number>(p).fill(0)
  for (let row = 0; row < data.length; row++) {
    const { x, trials, successes } = data[row]!
    let leverage = 0
    if (penalised)
      for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) leverage += x[i]! * inverse[i * p + j]! * x[j]!
    const pull = successes - trials * chances[row]! + weights[row]! * leverage * (0.5 - chances[row]!)
    for (let j = 0; j < p; j++) score[j]! += pull * x[j]!
  }
  return Number.isFinite(logLikelihood) ? { coefficients: b, logLikelihood, score, information, inverse } : undefined
}

/** The longest of the halved steps that raises the likelihood. */
function improve(data: readonly Trials[], at: Evaluated, move: readonly number[], penalised: boolean) {
  for (let share = Math.min(1, LARGEST_STEP / largest(move)); share > 1e-6; share /= 2) {
    const next = evaluate(
      data,
      at.coefficients.map((value, j) => value + share * move[j]!),
      penalised,
    )
    if (next && next.logLikelihood > at.logLikelihood) return next
  }
  return undefined
}

function settle(data: readonly Trials[], at: Evaluated, penalised: boolean): Outcome<LogisticFit> {
  const { coefficients, inverse, logLikelihood } = at
  const p = coefficients.length
  const logits = data.map(({ x }) => x.reduce((sum, value, j) => sum + value * coefficients[j]!, 0))
  if (!penalised && largest(logits) > LARGEST_LOGIT) return noMaximum()
  const covariance = Array.from({ length: p }, (_, i) => Array.from(inverse.subarray(i * p, (i + 1) * p)))
  return { ok: true, value: { coefficients, covariance, logLikelihood } }
}

const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs))

/** Fisher scoring within the span of the directions: D (D'ID)^-1 D'U. */
function scoringStep({ score, information }: Evaluated, directions: readonly (readonly number[])[]) {
  const p = score.length
  const q = directions.length
  const reduced = new Float64Array(q * q)
  const along = (d: readonly number[], e: readonly number[]) => {
    let sum = 0
    for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) sum += d[i]! * information[i * p + j]! * e[j]!
    return sum
  }
  for (let i = 0; i < q; i++) for (let j = 0; j < q; j++) reduced[i * q + j] = along(directions[i]!, directions[j]!)
  if (!factorInPlace(reduced, q, Number.MIN_VALUE)) return undefined
  const inverse = invertFactored(reduced, q)
  const pulls = directions.map((d) => d.reduce((sum, value, i) => sum + value * score[i]!, 0))
  const amounts = pulls.map((_, i) => pulls.reduce((sum, pull, j) => sum + inverse[i * q + j]! * pull, 0))
  return score.map((_, i) => directions.reduce((sum, d, k) => sum + d[i]! * amounts[k]!, 0))
}

/** The point of the plane weights . b = value below the start, and directions that span it; without a constraint, all of space. */
function planeOf(start: readonly number[], fixed: LogisticOptions['fixed']) {
  const unit = (j: number) => start.map((_, i) => (i === j ? 1 : 0))
  const all = start.map((_, j) => j)
  if (!fixed) return { origin: start, directions: all.map(unit) }
  const { weights, value } = fixed
  const pivot = all.reduce((a, b) => (Math.abs(weights[b]!) > Math.abs(weights[a]!) ? b : a))
  const others = all.filter((j) => j !== pivot)
  const rest = others.reduce((sum, j) => sum - weights[j]! * start[j]!, value)
  const origin = start.map((one, j) => (j === pivot ? rest / weights[pivot]! : one))
  const directions = others.map((j) => unit(j).map((one, i) => (i === pivot ? -weights[j]! / weights[pivot]! : one)))
  return { origin, directions }
}

function noMaximum(): Outcome<never> {
  return refuse('no-maximum', 'Measure where outcomes are mixed.', 'the outcomes are separated; no finite fit is best')
}

function dependent(): Outcome<never> {
  return refuse('dependent-columns', 'Measure at more different settings.', 'the information matrix is singular')
}

function requireTrials(data: readonly Trials[]): void {
  const need = (what: string, got: unknown) => new RangeError(`fitLogistic needs ${what}, got ${got}`)
  if (data.length === 0) throw need('at least one setting', 0)
  for (const { x, trials, successes } of data) {
    if (x.length !== data[0]!.x.length) throw need(`rows of ${data[0]!.x.length} values`, x.length)
    for (const value of x) if (!Number.isFinite(value)) throw need('finite values', value)
    if (!(Number.isInteger(trials) && trials > 0)) throw need('whole numbers of trials above 0', trials)
    if (!(Number.isInteger(successes) && successes >= 0 && successes <= trials)) {
      throw need(`successes from 0 to ${trials}`, successes)
    }
  }
}
