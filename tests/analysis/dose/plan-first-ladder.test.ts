import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { spreadLadder } from '../../../analysis/dose/first-ladder.js'
import { planFirstLadder, type Known } from '../../../analysis/dose/plan-first-ladder.js'
import { printTimesS } from '../../../analysis/dose/print-time.js'
import { transferRatios } from '../../../analysis/dose/layer-transfer.js'

const ends = (layerUm: number, known: Known) => {
  const { exposuresS } = planFirstLadder(layerUm, known)
  return [exposuresS[0]!, exposuresS.at(-1)!] as const
}

describe('the first ladder', () => {
  it('spans a factor of ten when nothing is known, in proportion to the layer height', () => {
    const { exposuresS, span, why } = planFirstLadder(50, { kind: 'nothing' })
    expect(exposuresS).toHaveLength(8)
    expect(span).toBeGreaterThan(9)
    expect(Math.sqrt(exposuresS[0]! * exposuresS[7]!)).toBeCloseTo(2.5, 1)
    expect(why).toContain('nothing is known')
    expect(ends(100, { kind: 'nothing' })[1] / exposuresS[7]!).toBeCloseTo(2, 1)
  })

  it('spans a factor of three about a setting at the same layer height', () => {
    const [low, high] = ends(50, { kind: 'setting', exposureS: 3, layerUm: 50 })
    expect(low).toBeCloseTo(3 / Math.sqrt(3), 1)
    expect(high).toBeCloseTo(3 * Math.sqrt(3), 1)
  })

  it('reaches beyond both transfer rules about a setting at another layer height', () => {
    const [low, high] = ends(30, { kind: 'setting', exposureS: 3, layerUm: 50 })
    expect(low).toBeLessThan(3 * transferRatios(50, 30, 600).accumulatedNear)
    expect(high).toBeGreaterThan(3 * transferRatios(50, 30, 600).bond)
  })

  it('brackets size and bond of a working curve', () => {
    const curve = { penetrationDepthUm: 260, criticalDoseMjPerCm2: 8, irradianceMwPerCm2: 2.5 }
    const [low, high] = ends(50, { kind: 'curve', ...curve })
    // Knife edge at E = 2 Ec of the accumulated dose (Mack 2007, blurred edge); depth h at E = Ec exp(h / Dp).
    expect(low).toBeLessThan(((2 * 8) / 2.5) * -Math.expm1(-50 / 260))
    expect(high).toBeGreaterThan((8 / 2.5) * Math.exp(50 / 260))
  })

  it('is ascending, of six or eight different rungs, whatever is known', () => {
    const amount = fc.double({ min: 0.5, max: 500, noNaN: true })
    const known = fc.oneof(
      fc.constant<Known>({ kind: 'nothing' }),
      fc.record({ kind: fc.constant('setting' as const), exposureS: amount, layerUm: amount }),
      fc.record({
        kind: fc.constant('curve' as const),
        penetrationDepthUm: fc.double({ min: 30, max: 600, noNaN: true }),
        criticalDoseMjPerCm2: amount,
        irradianceMwPerCm2: fc.double({ min: 0.2, max: 20, noNaN: true }),
      }),
    )
    fc.assert(
      fc.property(fc.double({ min: 10, max: 200, noNaN: true }), known, (layerUm, what) => {
        const { exposuresS } = planFirstLadder(layerUm, what)
        expect([6, 8]).toContain(exposuresS.length)
        expect(exposuresS).toEqual([...new Set(exposuresS)].sort((a, b) => a - b))
      }),
      { seed: 5 },
    )
  })

  it('throws for a number that cannot be', () => {
    const curve = { kind: 'curve' as const, penetrationDepthUm: 260, criticalDoseMjPerCm2: 8, irradianceMwPerCm2: 0 }
    expect(() => planFirstLadder(50, curve)).toThrow(
      new RangeError('planFirstLadder needs irradianceMwPerCm2 above 0, got 0'),
    )
  })
})

describe('a ladder between two ends', () => {
  it('goes in equal ratios, each a whole number of time steps', () => {
    // 1 to 4 in five steps: factor sqrt(2) from one to the next; then rounded to 0.05 s.
    expect(spreadLadder({ fromS: 1, toS: 4, rungs: 5, timeStepS: 0.05 })).toEqual([1, 1.4, 2, 2.85, 4])
  })

  it('proposes no exposure twice, and none beyond the end, when the time step is too coarse for as many', () => {
    expect(spreadLadder({ fromS: 0.1, toS: 0.4, rungs: 8, timeStepS: 0.1 })).toEqual([0.1, 0.2, 0.3, 0.4])
  })

  it('throws when it does not go up', () => {
    expect(() => spreadLadder({ fromS: 2, toS: 2, rungs: 3, timeStepS: 0.1 })).toThrow(RangeError)
  })
})

it('adds up the time of a print layer by layer', () => {
  // 12 mm in 50 um: 240 layers; 5 of 30 s, 235 of 2 s, 240 times 8 s between.
  const [time] = printTimesS({ exposuresS: [2], layerUm: 50, heightMm: 12 })
  expect(time).toBe(5 * 30 + 235 * 2 + 240 * 8)
  expect(printTimesS({ exposuresS: [2, 3], layerUm: 50, heightMm: 12, betweenLayersS: 5, baseLayers: 0 })).toEqual([
    240 * 7,
    240 * 8,
  ])
})
