import { describe, expect, it } from 'vitest'
import { coatGain } from '../../../analysis/finish/coat.js'
import { GRITS, gritName } from '../../../analysis/finish/grains.js'
import { layerStep, layersPerMm } from '../../../analysis/finish/layer-step.js'
import { faceReflectance, scatteredShare, stackTransmittance } from '../../../analysis/finish/rough-surface.js'
import { planSanding } from '../../../analysis/finish/sanding-plan.js'

describe('layer steps', () => {
  it('counts 20 layers a mm at 0.05 mm and 33 at 0.03', () => {
    // Common practice, no source.
    expect(layersPerMm(50)).toBeCloseTo(20, 12)
    expect(Math.round(layersPerMm(30))).toBe(33)
  })

  it('has the published sawtooth at 45 degrees: 35.4 um high, Ra 8.84 um', () => {
    // A general page on roughness of layered parts gives these for 50 um layers; geometry: h cos(a), a quarter of it.
    const { heightUm, raUm, rqUm, periodUm } = layerStep(50, 45)
    expect(heightUm).toBeCloseTo(35.4, 1)
    expect(raUm).toBeCloseTo(8.84, 2)
    expect(rqUm).toBeCloseTo(35.3553 / Math.sqrt(12), 3)
    expect(periodUm).toBeCloseTo(50 * Math.SQRT2, 9)
  })

  it('leaves pixel steps on an upright wall, and none on a flat face', () => {
    // Square pixels met at 45 degrees: half a diagonal, p / sqrt 2.
    expect(layerStep(50, 90, 35)).toMatchObject({ from: 'pixels', heightUm: 35 * Math.SQRT1_2 })
    expect(layerStep(50, 90).heightUm).toBe(0)
    expect(layerStep(50, 0, 35).heightUm).toBe(0)
    expect(() => layerStep(50, 91)).toThrow(new RangeError('layerStep needs an angle from 0 to 90, got 91'))
  })
})

describe('grains', () => {
  const grain = (scale: 'P' | 'JIS', number: number) => GRITS[scale].find((one) => one.number === number)!.grainUm

  it('agrees with a published chart of the P scale', () => {
    // https://stusshed.wordpress.com/2008/03/24/, ISO/FEPA column; sizes.com/tools/sandpaper.htm for P60 to P120.
    const chart = { 60: 269, 80: 201, 100: 162, 120: 125, 150: 100, 180: 82, 220: 68, 240: 58.5, 280: 52.2, 320: 46.2 }
    const fine = { 360: 40.5, 400: 35, 500: 30.2, 600: 25.8, 800: 21.8, 1000: 18.3, 1200: 15.3, 1500: 12.6 }
    const finest = { 2000: 10.3, 2500: 8.4 }
    expect(Object.fromEntries(GRITS.P.map(({ number, grainUm }) => [number, grainUm]))).toEqual({
      ...chart,
      ...fine,
      ...finest,
    })
  })

  it('has the JIS grades as recalled, finer with each', () => {
    // JIS R 6001-2, median by electrical resistance, um: all from memory; no copy of the standard was read.
    const recalled = { 240: 57, 320: 40, 400: 30, 600: 20, 800: 14, 1000: 11.5, 1200: 9.5, 1500: 8, 2000: 6.7 }
    const fine = { 2500: 5.5, 3000: 4, 4000: 3, 6000: 2, 8000: 1.2 }
    expect(Object.fromEntries(GRITS.JIS.map(({ number, grainUm }) => [number, grainUm]))).toEqual({
      ...recalled,
      ...fine,
    })
    for (const scale of ['P', 'JIS'] as const) {
      const sizes = GRITS[scale].map(({ grainUm }) => grainUm)
      expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
    }
  })

  it('tells equal numbers of the two scales apart', () => {
    // Same chart: P 1000 is 18.3 um, a water stone of 1000 (JIS) about 14; #4000 3 um, #6000 2 um, #8000 1.2 um.
    expect(grain('JIS', 1000)).toBeLessThan(14)
    expect(grain('P', 1000)).toBe(18.3)
    expect([4000, 6000, 8000].map((number) => grain('JIS', number))).toEqual([3, 2, 1.2])
    expect([gritName(GRITS.P[0]!), gritName(GRITS.JIS[0]!)]).toEqual(['P 60', 'JIS #240'])
  })
})

describe('rough face', () => {
  it.each([
    // exp(-(2 pi (n - 1) sigma / lambda)^2) at lambda 0.55 um, computed with scipy 1.10.
    [1.52, 0.02, 0.985984],
    [1.52, 0.05, 0.915557],
    [1.52, 0.1, 0.702654],
    [1.52, 0.2, 0.243761],
    [1.5, 0.1, 0.721612],
  ])('of n %f and rms %f um lets %f through unscattered', (n, rmsUm, through) => {
    expect(1 - scatteredShare(rmsUm, n - 1)).toBeCloseTo(through, 6)
  })

  it('almost vanishes under a coat of nearly its index', () => {
    // Same formula with dn = 0.02 and 0.5 um: 0.987034.
    expect(1 - scatteredShare(0.5, 0.02)).toBeCloseTo(0.987034, 6)
  })

  it('reflects as Fresnel says', () => {
    // ((n - 1) / (n + 1))^2 and 2n / (n^2 + 1), any optics text: 0.042580, 0.918318, 0.923077.
    expect(faceReflectance(1, 1.52)).toBeCloseTo(0.04258, 5)
    expect(stackTransmittance([1, 1.52, 1])).toBeCloseTo(0.918318, 6)
    expect(stackTransmittance([1, 1.5, 1])).toBeCloseTo(0.923077, 6)
  })

  it('wins clarity by a coat, and light only if the coat bends less than the resin', () => {
    const { transmittance, haze } = coatGain([0.2, 0.6], 1.52, 1.49)
    expect(haze.coated[1]).toBeLessThan(0.1)
    expect(haze.bare[0]).toBeGreaterThan(0.9)
    expect(transmittance.coated).toBeGreaterThan(transmittance.bare)
    const equal = coatGain([0.2, 0.6], 1.52, 1.52)
    expect(equal.haze.coated).toEqual([0, 0])
    expect(equal.transmittance.coated).toBeCloseTo(equal.transmittance.bare, 12)
  })
})

describe('sequence', () => {
  const request = { layerUm: 50, wallDegrees: 45, scale: 'P', coatIndex: 1.5 } as const

  it('starts at the grain of the steps and never takes more than the ratio', () => {
    const { steps } = planSanding({ ...request, coatIndex: undefined })
    // Steps 35.4 um high: the finest P grain not below is 40.5 um, P 360.
    expect(gritName(steps[0]!)).toBe('P 360')
    for (const [i, { grainUm }] of steps.slice(1).entries()) {
      expect(steps[i]!.grainUm / grainUm).toBeLessThanOrEqual(2)
    }
    expect(steps.map(({ scale }) => scale)).toContain('JIS')
  })

  it('takes off the layer steps first, then the marks of the grain before', () => {
    const { steps, step } = planSanding(request)
    expect(steps[0]!.stockUm).toEqual([step.heightUm, step.heightUm])
    expect(steps[1]!.stockUm).toEqual([steps[0]!.grainUm / 2, steps[0]!.grainUm])
  })

  it('tells how deep the marks of each grit are, and that this is from memory', () => {
    const { steps, assumed } = planSanding(request)
    expect(steps[0]!.marksUm).toEqual([steps[0]!.grainUm / 2, steps[0]!.grainUm])
    expect(assumed.map(({ what, basis }) => [what, basis])).toEqual([
      ['scratchShare', 'memory'],
      ['markShare', 'memory'],
      ['index', 'published'],
    ])
    expect(planSanding({ ...request, index: 1.51 }).assumed).toHaveLength(2)
  })

  it('stops sooner under a coat than bare, and at the first step that is good enough', () => {
    const coated = planSanding(request)
    const bare = planSanding({ ...request, coatIndex: undefined })
    expect(coated.steps.length).toBeLessThan(bare.steps.length)
    const { steps, stopAfter } = coated
    expect(stopAfter).toBe(steps.length - 1)
    expect(steps[stopAfter!]!.coatedHaze![1]).toBeLessThanOrEqual(0.05)
    expect(steps[stopAfter! - 1]!.coatedHaze![1]).toBeGreaterThan(0.05)
  })

  it('sends on to polish when no sheet is fine enough', () => {
    const plan = planSanding({ ...request, coatIndex: undefined, acceptedHaze: 0.001 })
    expect(plan.stopAfter).toBeUndefined()
    expect(plan.warnings.map(({ code }) => code)).toContain('polish-follows')
    expect(gritName(plan.steps.at(-1)!)).toBe('JIS #8000')
  })
})
