import erf from '@stdlib/math-base-special-erf'
import standardNormalQuantile from '@stdlib/stats-base-dists-normal-quantile'

export type ShapeName = 'straight' | 'quadratic' | 'threshold'

/** How growth rises with u = ln(exposure / reference). */
export interface GrowthShape {
  readonly name: ShapeName
  /** Whether growth is linear in the parameters. */
  readonly linear: boolean
  readonly parameterCount: number
  /** Growth, um, per side. */
  readonly growthUm: (parameters: ArrayLike<number>, u: number) => number
  /** Derivatives of growth by the parameters. */
  readonly gradient: (parameters: ArrayLike<number>, u: number) => number[]
  /** Derivative of growth by u, um. */
  readonly slopeUm: (parameters: ArrayLike<number>, u: number) => number
}

const straight: GrowthShape = {
  name: 'straight',
  linear: true,
  parameterCount: 2,
  growthUm: (p, u) => p[0]! + p[1]! * u,
  gradient: (_, u) => [1, u],
  slopeUm: (p) => p[1]!,
}

const quadratic: GrowthShape = {
  name: 'quadratic',
  linear: true,
  parameterCount: 3,
  growthUm: (p, u) => p[0]! + p[1]! * u + p[2]! * u ** 2,
  gradient: (_, u) => [1, u, u ** 2],
  slopeUm: (p, u) => p[1]! + 2 * p[2]! * u,
}

/**
 * Edge of a blurred image at a threshold: growth = -blur Q(exp(size - u) / 2), Q the standard normal quantile.
 *
 * A knife edge blurred by a Gaussian gives the dose E/2 erfc(x / (sqrt 2 blur)) at the distance x; resin sets where that
 * reaches the critical dose Ec, which is at x = sqrt 2 blur erfcinv(2 Ec / E). The edge prints in place at E = 2 Ec, the
 * parameter `size` = ln(2 Ec / reference); there its slope is blur sqrt(pi / 2), and bends down by as much per unit of u.
 * Below Ec nothing sets, and growth is not a number.
 *
 * Light that reaches back from later layers adds up to E / (1 - exp(-h / Dp)), the same factor for every exposure: it
 * lowers the critical layer exposure that is fitted here, and changes the shape in nothing.
 *
 * @see C. Mack, Fundamental Principles of Optical Lithography (Wiley 2007) [from memory]; accumulated dose as in H. Gong
 *   et al., RSC Adv. 5 (2015) 106621
 */
const threshold: GrowthShape = {
  name: 'threshold',
  linear: false,
  parameterCount: 2,
  growthUm: (p, u) => -p[0]! * quantileAt(p[1]!, u),
  gradient: (p, u) => [-quantileAt(p[1]!, u), -threshold.slopeUm(p, u)],
  slopeUm: (p, u) => {
    const q = quantileAt(p[1]!, u)
    return (p[0]! * (Math.exp(p[1]! - u) / 2) * Math.sqrt(2 * Math.PI)) / Math.exp(-(q ** 2) / 2)
  },
}

/** Size parameter of the threshold shape that gives a growth at u: its inverse. */
export const sizeForGrowth = (blurUm: number, u: number, growthUm: number): number =>
  u + Math.log(1 + erf(-growthUm / (blurUm * Math.SQRT2)))

const quantileAt = (size: number, u: number) => standardNormalQuantile(Math.exp(size - u) / 2, 0, 1)

export const SHAPES: Readonly<Record<ShapeName, GrowthShape>> = { straight, quadratic, threshold }
