import { describe, expect, it } from 'vitest'
import { changeLamp, doseOf } from '../../../analysis/dose/dose-view.js'

it('is irradiance times time, with the uncertainty of the irradiance', () => {
  // 3 mW/cm2 for 2.5 s: 7.5 mJ/cm2 by definition of the units.
  expect(doseOf(2.5, { mwPerCm2: 3, relativeUncertainty: 0.1 })).toEqual({ mjPerCm2: 7.5, standardUncertainty: 0.75 })
})

describe('another lamp', () => {
  const lamps = { from: { mwPerCm2: 3, relativeUncertainty: 0.03 }, to: { mwPerCm2: 2.4, relativeUncertainty: 0.04 } }

  it('takes the exposure that gives the same dose', () => {
    const { exposureS, doseMjPerCm2 } = changeLamp({ exposureS: 2, ...lamps, reason: 'printer' })
    expect(exposureS).toBeCloseTo(2.5, 12)
    expect(doseMjPerCm2).toBe(6)
  })

  it('combines the doubts of both lamps with that of the exposure', () => {
    const { intervalS } = changeLamp({ exposureS: 2, intervalS: [1.9, 2.2], ...lamps, reason: 'printer' })
    // Relative 95 %: 1.96 hypot(3, 4) % = 9.8 % of the lamps.
    expect(Math.log(2.5 / intervalS[0])).toBeCloseTo(Math.hypot(Math.log(2 / 1.9), 0.098), 10)
    expect(Math.log(intervalS[1] / 2.5)).toBeCloseTo(Math.hypot(Math.log(2.2 / 2), 0.098), 10)
  })

  it('is surer of the same printer, and cautions either way', () => {
    const ageing = changeLamp({ exposureS: 2, ...lamps, reason: 'ageing' })
    const printer = changeLamp({ exposureS: 2, ...lamps, reason: 'printer' })
    expect(ageing.intervalS[1]).toBeLessThan(printer.intervalS[1])
    expect(ageing.caution).toContain('new ladder')
    expect(printer.caution).toContain('A start for a ladder, not a setting')
  })
})

it('throws for an irradiance of zero', () => {
  expect(() => doseOf(2, { mwPerCm2: 0 })).toThrow(new RangeError('doseOf needs an irradiance above 0, got 0'))
})
