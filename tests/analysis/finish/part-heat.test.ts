import { describe, expect, it } from 'vitest'
import { heatPlate, type LitPlate } from '../../../analysis/finish/part-heat.js'

const plate: LitPlate = {
  thicknessMm: 4,
  conductivityWPerMK: 0.2,
  heatCapacityJPerM3K: 2.12e6,
  transferWPerM2K: 10,
  irradianceMwPerCm2: 20,
  penetrationMm: 1.5,
  exothermJPerCm3: 0,
  exothermDoseJPerCm2: 2,
  surroundingsC: 25,
}
/** What enters a face at n = 1.52 (Fresnel: 1 - 0.04258) and stays in 4 mm at 1/e in 1.5 mm. */
const absorbed = (1 - 0.52 ** 2 / 2.52 ** 2) * (1 - Math.exp(-4 / 1.5))

describe('the lump', () => {
  it('rises as q / 2h (1 - exp(-t / tau)), tau = rho c L / 2h', () => {
    const { lumpedC, timesS } = heatPlate(plate, [{ onS: 424, restS: 0, side: 'front' }])
    // Closed form: 200 W/m2 absorbed / (2 x 10 W/m2K) after one time constant, 2.12e6 x 0.004 / 20 = 424 s.
    expect(timesS.at(-1)).toBe(424)
    expect(lumpedC.at(-1)! - 25).toBeCloseTo(((200 * absorbed) / 20) * (1 - Math.exp(-1)), 3)
  })

  it('agrees with conduction in still air to a kelvin, and not in water', () => {
    const air = heatPlate(plate, [{ onS: 1200, restS: 0, side: 'front' }])
    // Bi = 0.1: hottest and mean differ by about q L / 8k = 0.5 K and the tilt of light from one side.
    expect(Math.abs(air.peakC - air.lumpedPeakC)).toBeLessThan(1.5)
    const water = heatPlate({ ...plate, transferWPerM2K: 300, irradianceMwPerCm2: 100 }, [
      { onS: 600, restS: 0, side: 'front' },
    ])
    expect(water.peakC - 25).toBeGreaterThan(1.5 * (water.lumpedPeakC - 25))
  })
})

describe('energy', () => {
  const insulated = { ...plate, transferWPerM2K: 1e-6 }

  it('keeps what it absorbs when nothing leaves', () => {
    const { lumpedC, hottestC } = heatPlate(insulated, [{ onS: 100, restS: 2000, side: 'both' }])
    // 2 x 200 W/m2 x 100 s x absorbed / (2.12e6 x 0.004 J/m2K), evened out after the rest.
    const rise = (2 * 200 * 100 * absorbed) / (2.12e6 * 0.004)
    expect(lumpedC.at(-1)! - 25).toBeCloseTo(rise, 3)
    expect(hottestC.at(-1)! - 25).toBeCloseTo(rise, 3)
  })

  it('sets the heat of curing free once, however the dose is cut into stages', () => {
    const curing = { ...insulated, exothermJPerCm3: 70, irradianceMwPerCm2: 100, penetrationMm: 50 }
    const end = (stages: number) =>
      heatPlate(
        curing,
        Array.from({ length: stages }, () => ({ onS: 600 / stages, restS: 60, side: 'both' as const })),
      ).lumpedC.at(-1)!
    const without = heatPlate({ ...curing, exothermJPerCm3: 0 }, [{ onS: 600, restS: 60, side: 'both' }]).lumpedC.at(
      -1,
    )!
    // 70 J/cm3 over 2.12 J/cm3K: 33 K, all of it, for 110 J/cm2 are far past the 2 J/cm2 it takes.
    expect(end(1) - without).toBeCloseTo(70 / 2.12, 2)
    expect(end(6)).toBeCloseTo(end(1), 3)
  })
})

it('counts the dose of the front by its own light', () => {
  const { frontDoseJPerCm2 } = heatPlate(plate, [
    { onS: 100, restS: 50, side: 'front' },
    { onS: 100, restS: 0, side: 'back' },
  ])
  // 20 mW/cm2 x 100 s = 2 J/cm2.
  expect(frontDoseJPerCm2.at(-1)).toBeCloseTo(2, 10)
})
