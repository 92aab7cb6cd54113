import { requirePositive } from './radiant-exposure.js'

/** A plate between two faces that lose heat to the same surroundings. */
export interface Slab {
  readonly thicknessMm: number
  readonly conductivityWPerMK: number
  /** Density times specific heat, J/m3K. */
  readonly heatCapacityJPerM3K: number
  /** Heat transfer coefficient at each face, W/m2K. */
  readonly transferWPerM2K: number
}

export interface SlabSolver {
  /** Middles of the cells from the front face on, mm, shape (n). */
  readonly depthsMm: Float64Array
  /**
   * Moves temperatures on by one step, in place.
   *
   * @param temperaturesC shape (n)
   * @param sourceWPerM3 heat made in each cell during the step, shape (n)
   */
  step(temperaturesC: Float64Array, sourceWPerM3: Float64Array, surroundingsC: number): void
}

/** Makes both halves of a TR-BDF2 step solve the same matrix. */
const GAMMA = 2 - Math.SQRT2

/**
 * Biot number h (L / 2) / k of a plate cooled on both faces: below 0.1 it may be taken as of one temperature.
 *
 * @see Cengel, Heat and Mass Transfer, chapter 4 (lumped analysis for Bi <= 0.1) [from memory]
 */
export function biotNumber({ thicknessMm, conductivityWPerMK, transferWPerM2K }: Slab): number {
  return (transferWPerM2K * thicknessMm) / 2000 / conductivityWPerMK
}

/**
 * One-dimensional transient conduction, rho c dT/dt = k d2T/dx2 + q, in finite volumes.
 *
 * Faces: -k dT/dx = h (T - Tinf). In time TR-BDF2, second order and L-stable, so that a lamp switched on does not ring
 * however long the step is against dx2 / alpha.
 *
 * @param cells at least 2
 * @throws {RangeError} if a property, the step or the count is not above 0
 * @see R. E. Bank et al., IEEE Trans. Comput.-Aided Des. 4 (1985) 436 (TR-BDF2) [from memory]; checked against series
 */
export function slabSolver(slab: Slab, stepS: number, cells = 24): SlabSolver {
  requirePositive('slabSolver', { ...slab, stepS, cells })
  const dx = slab.thicknessMm / 1000 / cells
  const { heatCapacityJPerM3K: capacity, conductivityWPerMK: k, transferWPerM2K: h } = slab
  const between = k / (dx * dx * capacity)
  // Film and half a cell in series.
  const toOutside = 1 / (1 / h + dx / (2 * k)) / (dx * capacity)
  const share = (GAMMA / 2) * stepS
  const diagonal = (i: number) => (i > 0 ? between : toOutside) + (i < cells - 1 ? between : toOutside)
  const { pivots, factors } = factorTridiagonal(cells, (i) => 1 + share * diagonal(i), -share * between)
  const middle = new Float64Array(cells)
  const right = new Float64Array(cells)

  const solve = (x: Float64Array) => {
    for (let i = 0; i < cells; i++) x[i] = (right[i]! + (i > 0 ? share * between * x[i - 1]! : 0)) / pivots[i]!
    for (let i = cells - 2; i >= 0; i--) x[i]! += factors[i]! * x[i + 1]!
  }
  return {
    depthsMm: Float64Array.from({ length: cells }, (_, i) => (i + 0.5) * dx * 1000),
    step(t, source, outsideC) {
      const gain = (i: number) =>
        source[i]! / capacity + (i === 0 ? toOutside * outsideC : 0) + (i === cells - 1 ? toOutside * outsideC : 0)
      for (let i = 0; i < cells; i++) {
        const flow = (i > 0 ? between * t[i - 1]! : 0) + (i < cells - 1 ? between * t[i + 1]! : 0) - diagonal(i) * t[i]!
        right[i] = t[i]! + share * (flow + 2 * gain(i))
      }
      solve(middle)
      const [ofMiddle, ofOld] = [1 / (GAMMA * (2 - GAMMA)), (1 - GAMMA) ** 2 / (GAMMA * (2 - GAMMA))]
      for (let i = 0; i < cells; i++) right[i] = ofMiddle * middle[i]! - ofOld * t[i]! + share * gain(i)
      solve(t)
    },
  }
}

/** Elimination of a symmetric tridiagonal matrix with one off-diagonal value, ready for many right sides. */
function factorTridiagonal(n: number, diagonal: (i: number) => number, off: number) {
  const pivots = new Float64Array(n)
  const factors = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    pivots[i] = diagonal(i) + (i > 0 ? off * factors[i - 1]! : 0)
    factors[i] = -off / pivots[i]!
  }
  return { pivots, factors }
}
