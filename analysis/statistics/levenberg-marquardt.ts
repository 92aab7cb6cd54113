import { refuse, type Outcome } from '../outcome.js'
import { factorInPlace, invertFactored, solveInPlace } from './cholesky.js'

/**
 * Fills residuals, shape (m), and their derivatives, shape (m, n) row-major, at the given parameters, shape (n).
 *
 * The Jacobian arrives holding old values and must be written in full. Entries left at exactly 0 cost nothing, so a
 * model whose residuals each depend on few parameters is fast. A non-finite residual marks parameters outside the
 * model's domain; the search turns back from it.
 */
export type EvaluateModel = (parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array) => void

/** What is known of a parameter beforehand: a normal distribution. */
export interface ParameterPrior {
  readonly index: number
  readonly mean: number
  readonly standardUncertainty: number
}

export interface LeastSquaresOptions {
  /** Default none. Sensible only when the residuals are divided by their standard uncertainties. */
  readonly priors?: readonly ParameterPrior[]
  /** Steps tried at most, refused ones included. Default 200. */
  readonly maximumIterations?: number
  /** Relative size of a step, or cosine between residuals and model, below which the search ends. Default 1e-9. */
  readonly tolerance?: number
}

export interface LeastSquaresFit {
  /** Shape (n). */
  readonly parameters: Float64Array
  /** Shape (n, n) row-major, (J'J)^-1: the covariance when residuals are divided by their standard uncertainties. */
  readonly unscaledCovariance: Float64Array
  /** The same times rss over degrees of freedom, the noise taken from the scatter; null with no degrees of freedom. */
  readonly scaledCovariance: Float64Array | null
  /** Sum of squared residuals, priors included as if each were one more residual. */
  readonly rss: number
  /** Residuals and priors less parameters. */
  readonly degreesOfFreedom: number
  /** Shape (m), residuals at the minimum, priors left out. */
  readonly residuals: Float64Array
  /** Steps tried, refused ones included. */
  readonly iterations: number
}

/** Pivot of the unit-diagonal normal matrix, 1 - R^2 of a parameter on the others, below which it counts as dependent. */
const SMALLEST_PIVOT = 1e-13
/** A column norm this far below the largest met: the parameter has run onto a plateau where it changes nothing. */
const PLATEAU = 1e-10
/**
 * A tiny step ends the search only if damping did not make it tiny, or if the ground is this flat (cosine): at the
 * minimum rounding refuses every step and damping rises, but on a slope a damped step says nothing.
 */
const FLAT_ENOUGH = 1e-4

/**
 * Nonlinear least squares: parameters that minimise the sum of squared residuals.
 *
 * Levenberg-Marquardt with the parameters scaled by the largest column norms met (Moré), so that units do not matter,
 * and damping steered by the ratio of actual to predicted reduction (Nielsen). Works on the normal equations in typed
 * arrays, meant for many small fits in a row; parameters that differ in effect by less than about 1e-6 cannot be told
 * apart. Finds the minimum downhill from the start, which need not be the lowest.
 *
 * @param evaluate fills residuals and Jacobian
 * @param start shape (n)
 * @param residualCount m, residuals that `evaluate` fills
 * @returns the fit, or a refusal: `not-converged`; `not-finite` when the model has no value at the start;
 *   `parameters-not-determined` when some parameters change nothing, or only what others change too
 * @throws {RangeError} when parameters outnumber residuals and priors, or a prior names no parameter
 * @see J. J. Moré, Lecture Notes in Mathematics 630 (1978) 105; H. B. Nielsen, IMM-REP-1999-05, TU Denmark (1999)
 *   [both from memory]; checked against NIST StRD
 */
export function minimizeSquares(
  evaluate: EvaluateModel,
  start: ArrayLike<number>,
  residualCount: number,
  { priors = [], maximumIterations = 200, tolerance = 1e-9 }: LeastSquaresOptions = {},
): Outcome<LeastSquaresFit> {
  requireProblem(start.length, residualCount, priors)
  const rooms = [takeRoom(residualCount * start.length), takeRoom(residualCount * start.length)] as const
  try {
    return descend(evaluate, start, residualCount, { priors, maximumIterations, tolerance }, rooms)
  } finally {
    for (const room of rooms) roomsToSpare.push(room)
  }
}

/** Room for Jacobians, used again and again: fresh room for each of many fits keeps the garbage collector busy. */
const roomsToSpare: Float64Array[] = []

/** At least so many numbers, holding old values. */
function takeRoom(length: number): Float64Array {
  const room = roomsToSpare.pop()
  return room && room.length >= length ? room : new Float64Array(length)
}

function descend(
  evaluate: EvaluateModel,
  start: ArrayLike<number>,
  residualCount: number,
  { priors, maximumIterations, tolerance }: Required<LeastSquaresOptions>,
  rooms: readonly [Float64Array, Float64Array],
): Outcome<LeastSquaresFit> {
  const n = start.length
  const rows = residualCount + priors.length

  let parameters = Float64Array.from(start)
  let trial = new Float64Array(n)
  let [current, spare] = rooms.map((room): ModelState => ({
    residuals: new Float64Array(residualCount),
    jacobian: room.subarray(0, residualCount * n),
    rss: NaN,
  })) as [ModelState, ModelState]
  fillState(evaluate, parameters, priors, current)
  if (!Number.isFinite(current.rss)) {
    return refuse('not-finite', 'Start from other parameters.', `no value at ${Array.from(parameters).join(', ')}`)
  }

  const equations: NormalEquations = {
    matrix: new Float64Array(n * n),
    gradient: new Float64Array(n),
    scale: new Float64Array(n),
  }
  const work = new Float64Array(n * n)
  const step = new Float64Array(n)
  accumulate(current, parameters, priors, equations)
  let damping = 1e-3
  let raise = 2
  for (let iteration = 0; iteration < maximumIterations; iteration++) {
    const flatness = cosineToModel(equations, current.rss)
    if (flatness <= tolerance) return finish(parameters, equations, current, rows, iteration)

    solveDamped(equations, damping, work, step)
    const { predicted, relativeLength } = judgeStep(equations, damping, step, parameters)
    if (relativeLength <= tolerance) {
      if (damping <= 1 || flatness <= FLAT_ENOUGH) return finish(parameters, equations, current, rows, iteration)
      break
    }

    for (let j = 0; j < n; j++) trial[j] = parameters[j]! + step[j]!
    fillState(evaluate, trial, priors, spare)
    const gain = (current.rss - spare.rss) / predicted
    if (gain > 0) {
      ;[parameters, trial] = [trial, parameters]
      ;[current, spare] = [spare, current]
      accumulate(current, parameters, priors, equations)
      damping *= Math.max(1 / 3, 1 - (2 * gain - 1) ** 3)
      raise = 2
    } else {
      damping *= raise
      raise *= 2
    }
  }
  return refuse(
    'not-converged',
    'Start nearer to the answer, or allow more iterations.',
    `sum of squares ${current.rss} after at most ${maximumIterations} iterations`,
  )
}

interface ModelState {
  readonly residuals: Float64Array
  readonly jacobian: Float64Array
  rss: number
}

/** J'J and J'r, the priors included as further rows. */
interface NormalEquations {
  /** Shape (n, n) row-major, lower triangle. */
  readonly matrix: Float64Array
  readonly gradient: Float64Array
  /** Largest norm met of each column of the Jacobian. */
  readonly scale: Float64Array
}

function fillState(
  evaluate: EvaluateModel,
  parameters: Float64Array,
  priors: readonly ParameterPrior[],
  state: ModelState,
): void {
  evaluate(parameters, state.residuals, state.jacobian)
  let rss = 0
  for (const residual of state.residuals) rss += residual * residual
  for (const { index, mean, standardUncertainty } of priors) {
    rss += ((parameters[index]! - mean) / standardUncertainty) ** 2
  }
  state.rss = rss
}

function accumulate(
  { residuals, jacobian }: ModelState,
  parameters: Float64Array,
  priors: readonly ParameterPrior[],
  { matrix, gradient, scale }: NormalEquations,
): void {
  const n = parameters.length
  matrix.fill(0)
  gradient.fill(0)
  const filled = new Int32Array(n)
  for (let row = 0, base = 0; row < residuals.length; row++, base += n) {
    const residual = residuals[row]!
    let count = 0
    for (let i = 0; i < n; i++) if (jacobian[base + i] !== 0) filled[count++] = i
    for (let a = 0; a < count; a++) {
      const i = filled[a]!
      const derivative = jacobian[base + i]!
      gradient[i]! += derivative * residual
      for (let b = 0; b <= a; b++) matrix[i * n + filled[b]!]! += derivative * jacobian[base + filled[b]!]!
    }
  }
  for (const { index, mean, standardUncertainty } of priors) {
    matrix[index * n + index]! += standardUncertainty ** -2
    gradient[index]! += (parameters[index]! - mean) / standardUncertainty ** 2
  }
  for (let j = 0; j < n; j++) scale[j] = Math.max(scale[j]!, Math.sqrt(matrix[j * n + j]!))
}

/** Largest cosine between the residuals and a direction in which a parameter moves the model: 0 at the minimum. */
function cosineToModel({ matrix, gradient }: NormalEquations, rss: number): number {
  if (rss === 0) return 0
  const n = gradient.length
  let largest = 0
  for (let j = 0; j < n; j++) {
    const length = Math.sqrt(matrix[j * n + j]! * rss)
    if (length > 0) largest = Math.max(largest, Math.abs(gradient[j]!) / length)
  }
  return largest
}

/** Solves (J'J + damping D^2) step = -J'r, D the scale; damping makes the matrix positive definite. */
function solveDamped(
  { matrix, gradient, scale }: NormalEquations,
  damping: number,
  work: Float64Array,
  step: Float64Array,
): void {
  const n = gradient.length
  for (let i = 0; i < n; i++) {
    const scaleI = scale[i]! || 1
    for (let j = 0; j < i; j++) work[i * n + j] = matrix[i * n + j]! / (scaleI * (scale[j]! || 1))
    // The floor keeps the matrix definite when damping has sunk below rounding.
    work[i * n + i] = matrix[i * n + i]! / scaleI ** 2 + Math.max(damping, SMALLEST_PIVOT)
    step[i] = -gradient[i]! / scaleI
  }
  factorInPlace(work, n)
  solveInPlace(work, n, step)
  for (let i = 0; i < n; i++) step[i]! /= scale[i]! || 1
}

/** Reduction of the rss that the linear model promises, and the scaled length of the step over the parameters'. */
function judgeStep(
  { gradient, scale }: NormalEquations,
  damping: number,
  step: Float64Array,
  parameters: Float64Array,
): { predicted: number; relativeLength: number } {
  let predicted = 0
  let stepLength = 0
  let parameterLength = 0
  for (let j = 0; j < step.length; j++) {
    const scaledStep = scale[j]! * step[j]!
    predicted += damping * scaledStep ** 2 - gradient[j]! * step[j]!
    stepLength += scaledStep ** 2
    parameterLength += (scale[j]! * parameters[j]!) ** 2
  }
  return { predicted, relativeLength: Math.sqrt(stepLength / parameterLength) }
}

function finish(
  parameters: Float64Array,
  { matrix, scale }: NormalEquations,
  { rss, residuals }: ModelState,
  rows: number,
  iterations: number,
): Outcome<LeastSquaresFit> {
  const n = parameters.length
  const norms = new Float64Array(n)
  const factor = new Float64Array(n * n)
  let idle = false
  for (let i = 0; i < n; i++) {
    norms[i] = Math.sqrt(matrix[i * n + i]!)
    idle ||= norms[i] === 0 || norms[i]! < PLATEAU * scale[i]!
    for (let j = 0; j <= i; j++) factor[i * n + j] = matrix[i * n + j]! / (norms[i]! * norms[j]!)
  }
  if (idle || !factorInPlace(factor, n, SMALLEST_PIVOT)) {
    return refuse(
      'parameters-not-determined',
      'Measure more, or fix some parameters.',
      `column norms ${norms.join(', ')}`,
    )
  }
  const degreesOfFreedom = rows - n
  return {
    ok: true,
    value: {
      parameters,
      rss,
      residuals,
      degreesOfFreedom,
      iterations,
      // Worked out when asked for: of the many fits in a row only the parameters are wanted.
      get unscaledCovariance() {
        const covariance = invertFactored(factor, n)
        for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) covariance[i * n + j]! /= norms[i]! * norms[j]!
        return covariance
      },
      get scaledCovariance() {
        const noise = rss / degreesOfFreedom
        return degreesOfFreedom > 0 ? this.unscaledCovariance.map((value) => value * noise) : null
      },
    },
  }
}

function requireProblem(n: number, residualCount: number, priors: readonly ParameterPrior[]): void {
  const need = (what: string, got: unknown) => new RangeError(`minimizeSquares needs ${what}, got ${got}`)
  if (n < 1) throw need('at least one parameter', n)
  if (residualCount + priors.length < n) throw need(`at least ${n} residuals and priors`, residualCount + priors.length)
  for (const { index, standardUncertainty } of priors) {
    if (!(index >= 0 && index < n)) throw need(`priors on parameters 0 to ${n - 1}`, index)
    if (!(standardUncertainty > 0)) throw need('priors with an uncertainty above 0', standardUncertainty)
  }
}
