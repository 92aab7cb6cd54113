/**
 * Leave-one-out sum of squares of a least-squares fit to points in a plane, without fitting again.
 *
 * With both coordinates of a point left out, its prediction error is (I - H)^-1 r, H = J C J' the point's 2 x 2 block of
 * leverage: exact for a linear model, and here the model is nearly so.
 *
 * @param residuals shape (2n), x and y of each point, over their standard uncertainty
 * @param jacobian shape (2n, p), row by row, of those residuals
 * @param covariance shape (p, p), (J'J)^-1 with priors
 * @see D. M. Allen, Technometrics 16 (1974) 125 [from memory]
 */
export function pressOfPoints(
  residuals: Float64Array,
  jacobian: Float64Array,
  covariance: Float64Array,
  parameters: number,
): number {
  let press = 0
  for (let i = 0; i < residuals.length; i += 2) {
    const a = 1 - leverage(jacobian, covariance, parameters, i, i)
    const b = -leverage(jacobian, covariance, parameters, i, i + 1)
    const d = 1 - leverage(jacobian, covariance, parameters, i + 1, i + 1)
    const [x, y] = [residuals[i]!, residuals[i + 1]!]
    const determinant = a * d - b * b
    press += ((d * x - b * y) / determinant) ** 2 + ((a * y - b * x) / determinant) ** 2
  }
  return press
}

/** Entry i, j of J C J'. */
function leverage(jacobian: Float64Array, covariance: Float64Array, parameters: number, i: number, j: number): number {
  let sum = 0
  for (let a = 0; a < parameters; a++)
    for (let b = 0; b < parameters; b++)
      sum += jacobian[i * parameters + a]! * covariance[a * parameters + b]! * jacobian[j * parameters + b]!
  return sum
}
