import { describe, expect, it } from 'vitest'
import { combineUncertainty, expandUncertainty } from '../../../analysis/statistics/uncertainty.js'
import { readReference } from '../../support/reference.js'

interface EndGauge {
  components_nm: Record<string, number>
  dof: Record<string, number>
  printed: { uc_nm: number; nu_eff: number; k99: number; U99_nm: number }
  computed: { uc: number; nu_eff: number }
  d: { parts_nm: Record<string, number>; dof: Record<string, number>; printed_u_nm: number; printed_nu_eff: number }
}

describe('the end-gauge calibration of the GUM, H.1', () => {
  const gauge = readReference<EndGauge>('gum-h1-end-gauge')
  const combined = combineUncertainty(
    Object.entries(gauge.components_nm).map(([name, standardUncertainty]) => ({
      standardUncertainty,
      degreesOfFreedom: gauge.dof[name]!,
    })),
  )

  it('combines to the printed 32 nm on 16 degrees of freedom', () => {
    expect(Math.round(combined.standardUncertainty)).toBe(gauge.printed.uc_nm)
    expect(Math.floor(combined.degreesOfFreedom!)).toBe(gauge.printed.nu_eff)
    // The recomputed values are given to six digits.
    expect(combined.standardUncertainty).toBeCloseTo(gauge.computed.uc, 4)
    expect(combined.degreesOfFreedom).toBeCloseTo(gauge.computed.nu_eff, 4)
  })

  it('expands to the printed 93 nm at 99 %', () => {
    const { expandedUncertainty, coverageFactor } = expandUncertainty(combined, 0.99)
    expect(Number(coverageFactor.toFixed(2))).toBe(gauge.printed.k99)
    expect(Math.round(expandedUncertainty)).toBe(gauge.printed.U99_nm)
  })

  it('finds 9.7 nm on about 25.6 degrees of freedom for the length difference', () => {
    const { parts_nm, dof, printed_u_nm, printed_nu_eff } = gauge.d
    const components = [
      { standardUncertainty: parts_nm['repeat']!, degreesOfFreedom: dof['repeat']! },
      { standardUncertainty: parts_nm['random_comparator']!, degreesOfFreedom: dof['random']! },
      { standardUncertainty: parts_nm['systematic_comparator']!, degreesOfFreedom: dof['systematic']! },
    ]
    const d = combineUncertainty(components)
    expect(Number(d.standardUncertainty.toFixed(1))).toBe(printed_u_nm)
    // The inputs are printed to two digits; that alone moves the result by about 1 %.
    expect(Math.abs(d.degreesOfFreedom! / printed_nu_eff - 1)).toBeLessThan(0.01)
  })
})

it('scales each component by its sensitivity, whatever the sign', () => {
  const combined = combineUncertainty([
    { standardUncertainty: 3, sensitivity: -2 },
    { standardUncertainty: 8, sensitivity: 1 },
  ])
  expect(combined).toStrictEqual({ standardUncertainty: 10 }) // 6, 8, 10
})

it('leaves degrees of freedom out when every component is known exactly', () => {
  expect(combineUncertainty([{ standardUncertainty: 3 }])).toStrictEqual({ standardUncertainty: 3 })
  expect(combineUncertainty([])).toStrictEqual({ standardUncertainty: 0 })
})

it.each([
  [{ standardUncertainty: -1 }, 'combineUncertainty needs finite uncertainties of at least 0, got -1'],
  [{ standardUncertainty: Number.NaN }, 'combineUncertainty needs finite uncertainties of at least 0, got NaN'],
  [{ standardUncertainty: 1, degreesOfFreedom: 0 }, 'combineUncertainty needs degrees of freedom above 0, got 0'],
])('throws for the component %o', (component, message) => {
  expect(() => combineUncertainty([component])).toThrow(new RangeError(message))
})
