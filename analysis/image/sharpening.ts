/** An unsharp mask over code values: v + amount (v - Gaussian mean of v). */
export interface Sharpening {
  readonly amount: number
  /** Standard deviation of the Gaussian. */
  readonly radiusPx: number
}

const LEAST_WEIGHT = 1e-3

/**
 * Code values along a line as they were before sharpening.
 *
 * With rho = amount / (1 + amount) the mask's inverse is (1 / (1 + amount)) sum over n of rho^n times a Gaussian mean of
 * width sqrt(n) radius: averages only, so that no noise is raised. It holds along a line across straight edges, where the
 * mask's Gaussian acts in one direction; codes that were clipped are not brought back.
 *
 * @param codes shape (n), at even steps; beyond the ends the last value is taken to go on
 * @param stepPx pixels from one to the next
 * @returns shape (n)
 */
export function removeSharpening(codes: Float64Array, stepPx: number, { amount, radiusPx }: Sharpening): Float64Array {
  const half = inverseKernel(amount, radiusPx / stepPx)
  const n = codes.length
  const before = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let sum = half[0]! * codes[i]!
    for (let k = 1; k < half.length; k++)
      sum += half[k]! * (codes[Math.max(0, i - k)]! + codes[Math.min(n - 1, i + k)]!)
    before[i] = sum
  }
  return before
}

/** Weights of the inverse from its middle outwards, summing to 1 over both sides. */
function inverseKernel(amount: number, radius: number): Float64Array {
  const rho = amount / (1 + amount)
  const terms = Math.max(1, Math.ceil(Math.log(LEAST_WEIGHT) / Math.log(rho)))
  const half = new Float64Array(Math.ceil(4 * radius * Math.sqrt(terms)) + 1)
  half[0] = 1
  for (let n = 1, weight = rho; n <= terms; n++, weight *= rho) {
    const width = radius * Math.sqrt(n)
    const gaussian = half.map((_, k) => Math.exp(-0.5 * (k / width) ** 2))
    const total = sumBothSides(gaussian)
    for (let k = 0; k < half.length; k++) half[k]! += (weight / total) * gaussian[k]!
  }
  const total = sumBothSides(half)
  return half.map((weight) => weight / total)
}

const sumBothSides = (half: Float64Array): number => 2 * half.reduce((sum, w) => sum + w, 0) - half[0]!
