/** What {@link informationCriterion} needs of a least-squares fit. */
export interface FitSummary {
  /** Sum of squared weighted residuals; chi-squared when the noise is given. */
  readonly rss: number
  readonly points: number
  /** Coefficients fitted, not counting the size of the noise. */
  readonly coefficients: number
}

/**
 * Akaike's information criterion of a least-squares fit: lower is better; only differences mean anything.
 *
 * - noise given (weights are 1/u^2): rss + 2k. Exact for a linear model at any number of points: the small-sample term
 *   of AICc pays for estimating the size of the noise, and here it is not estimated.
 * - noise from the scatter: n ln(rss / n) + 2K + 2K (K + 1) / (n - K - 1), with K = k + 1 for the noise (AICc).
 *   Infinite when n is at most K + 1: so few points cannot support the model.
 *
 * The two differ much on short ladders. With 6 points the second lets a third coefficient in only if it divides the rss
 * by 148, and so keeps a straight line through data that are plainly curved.
 *
 * @see N. Sugiura, Comm. Statist. A7 (1978) 13; C. M. Hurvich, C.-L. Tsai, Biometrika 76 (1989) 297 [from memory]
 * @example informationCriterion({ rss: 4.1, points: 6, coefficients: 2 }, 'given') // 8.1
 */
export function informationCriterion(
  { rss, points, coefficients }: FitSummary,
  noise: 'given' | 'from-scatter',
): number {
  if (noise === 'given') return rss + 2 * coefficients
  const parameters = coefficients + 1
  const spare = points - parameters - 1
  if (spare <= 0) return Infinity
  return points * Math.log(rss / points) + 2 * parameters + (2 * parameters * (parameters + 1)) / spare
}
