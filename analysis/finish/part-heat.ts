import { requirePositive } from './radiant-exposure.js'
import { slabSolver, type Slab } from './slab-conduction.js'

/** A plate of cured resin under a curing lamp. */
export interface LitPlate extends Slab {
  /** At the lit face, mW/cm2. */
  readonly irradianceMwPerCm2: number
  /** Depth after which 1/e of the light is left in the cured resin, mm. */
  readonly penetrationMm: number
  /** Heat that curing still sets free, J/cm3 of resin. */
  readonly exothermJPerCm3: number
  /** Local dose after which 1/e of that heat is still to come, J/cm2. */
  readonly exothermDoseJPerCm2: number
  /** Air or bath around the part, which also starts at it. */
  readonly surroundingsC: number
}

/** Light on one face or both, then none. */
export interface Stage {
  readonly onS: number
  readonly restS: number
  readonly side: 'front' | 'back' | 'both'
}

export interface PartHeat {
  readonly timesS: readonly number[]
  /** Hottest place in the plate by conduction. */
  readonly hottestC: readonly number[]
  /** The plate as one lump. */
  readonly lumpedC: readonly number[]
  /** At the front face so far, its own light only. */
  readonly frontDoseJPerCm2: readonly number[]
  readonly peakC: number
  readonly lumpedPeakC: number
}

/** What is not reflected at the face: 1 - ((n - 1) / (n + 1))^2 at n = 1.52, physics of Fresnel. */
const ENTERS = 0.9574
const W_PER_M2 = 10
const J_PER_M3 = 1e6

/**
 * Temperature of a plate through stages of light and rest, by conduction and as one lump, side by side.
 *
 * Light is absorbed by Beer-Lambert, E exp(-z / D) / D, and all that is absorbed becomes heat. Curing sets its own heat
 * free with the local dose, Q (1 - exp(-H / Hs)). Lump: rho c L dT/dt = absorbed + exotherm - 2 h (T - Tinf), stepped
 * by its exponential, exact for a heat that is constant over a step.
 *
 * @param stepS step of both models, s. Default 1.
 * @throws {RangeError} if a property is not above 0, the exotherm excepted, which may be 0
 */
export function heatPlate(plate: LitPlate, stages: readonly Stage[], stepS = 1, cells = 24): PartHeat {
  const { exothermJPerCm3, surroundingsC, ...positive } = plate
  requirePositive('heatPlate', positive)
  const solver = slabSolver(slabOf(plate), stepS, cells)
  const light = lightInCells(plate, cells)
  const temperatures = new Float64Array(cells).fill(surroundingsC)
  const source = new Float64Array(cells)
  const dose = new Float64Array(cells)
  const areaCapacity = (plate.heatCapacityJPerM3K * plate.thicknessMm) / 1000
  const rate = (2 * plate.transferWPerM2K) / areaCapacity
  const decay = Math.exp(-rate * stepS)

  let [timeS, lumped, frontDose] = [0, surroundingsC, 0]
  const timesS = [0]
  const hottestC = [surroundingsC]
  const lumpedC = [surroundingsC]
  const frontDoseJPerCm2 = [0]
  const advance = (sides: readonly ('front' | 'back')[]) => {
    let total = 0
    for (let i = 0; i < cells; i++) {
      let heat = 0
      let added = 0
      for (const side of sides) {
        const j = side === 'front' ? i : cells - 1 - i
        heat += light.absorbedWPerM3[j]!
        added += light.fluenceMwPerCm2[j]!
      }
      const before = Math.exp(-dose[i]! / plate.exothermDoseJPerCm2)
      dose[i]! += (added * stepS) / 1000
      const cured = before - Math.exp(-dose[i]! / plate.exothermDoseJPerCm2)
      source[i] = heat + (exothermJPerCm3 * J_PER_M3 * cured) / stepS
      total += source[i]!
    }
    const perArea = (total / cells) * (plate.thicknessMm / 1000)
    const settles = surroundingsC + perArea / (2 * plate.transferWPerM2K)
    lumped = settles + (lumped - settles) * decay
    solver.step(temperatures, source, surroundingsC)
    if (sides.includes('front')) frontDose += (plate.irradianceMwPerCm2 * stepS) / 1000
    timeS += stepS
    timesS.push(timeS)
    hottestC.push(temperatures.reduce((a, b) => Math.max(a, b)))
    lumpedC.push(lumped)
    frontDoseJPerCm2.push(frontDose)
  }
  for (const { onS, restS, side } of stages) {
    const sides = side === 'both' ? (['front', 'back'] as const) : [side]
    for (let i = 0; i < Math.round(onS / stepS); i++) advance(sides)
    for (let i = 0; i < Math.round(restS / stepS); i++) advance([])
  }
  return {
    timesS,
    hottestC,
    lumpedC,
    frontDoseJPerCm2,
    peakC: hottestC.reduce((a, b) => Math.max(a, b)),
    lumpedPeakC: lumpedC.reduce((a, b) => Math.max(a, b)),
  }
}

const slabOf = ({ thicknessMm, conductivityWPerMK, heatCapacityJPerM3K, transferWPerM2K }: Slab): Slab => ({
  thicknessMm,
  conductivityWPerMK,
  heatCapacityJPerM3K,
  transferWPerM2K,
})

/** Absorbed power and light at the middle of each cell, for light from the front. */
function lightInCells({ irradianceMwPerCm2, penetrationMm, thicknessMm }: LitPlate, cells: number) {
  const dxMm = thicknessMm / cells
  const entering = irradianceMwPerCm2 * ENTERS
  const at = (mm: number) => entering * Math.exp(-mm / penetrationMm)
  return {
    absorbedWPerM3: Float64Array.from({ length: cells }, (_, i) => {
      return ((at(i * dxMm) - at((i + 1) * dxMm)) * W_PER_M2) / (dxMm / 1000)
    }),
    fluenceMwPerCm2: Float64Array.from({ length: cells }, (_, i) => at((i + 0.5) * dxMm)),
  }
}
