import { expect, it } from 'vitest'
import { compareGroups } from '../../../analysis/compare/compare-groups.js'
import type { Observation } from '../../../analysis/compare/observation.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { adjustedP, simultaneousFactor } from '../../../analysis/statistics/simultaneous.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'
import { readReference } from '../../support/reference.js'

interface Grouped {
  readonly y: number[]
  readonly group: number[]
}
const r = readReference<{
  welch: Grouped & { t: [number]; degreesOfFreedom: [number]; p: [number]; interval: [number, number] }
  gamesHowell: Grouped & { pairs: [number, number, number, number, number, number, number, number][] }
  machines: Grouped & { photo: number[]; bottle: number[]; standardErrors: number[]; degreesOfFreedom: number[] }
}>('compare-groups')

const lone = ({ y, group }: Grouped): Observation[] =>
  y.map((value, i) => ({
    value,
    group: `g${group[i]}`,
    standardUncertainty: 0.1,
    photo: `p${i}`,
    photoUncertainty: 0,
    coupon: `c${i}`,
    exposureS: 2,
  }))

it("gives Welch's test of Student's sleep data as R does", () => {
  const { method, differences } = valueOf(compareGroups(lone(r.welch)))
  expect(method).toBe('welch')
  const { value, standardUncertainty, degreesOfFreedom } = differences[0]!.difference
  expect(value / standardUncertainty).toBeCloseTo(r.welch.t[0], 9)
  expect(degreesOfFreedom).toBeCloseTo(r.welch.degreesOfFreedom[0], 8)
  const half = coverageFactor(degreesOfFreedom) * standardUncertainty
  expect(value - half).toBeCloseTo(r.welch.interval[0], 8)
  expect(value + half).toBeCloseTo(r.welch.interval[1], 8)
  expect(adjustedP(value / standardUncertainty, { groups: 2, degreesOfFreedom })).toBeCloseTo(r.welch.p[0], 8)
})

it("gives Games and Howell's procedure as written with R's studentized range", () => {
  const { differences } = valueOf(compareGroups(lone(r.gamesHowell)))
  for (const [i, [, , d, u, df, p, low, high]] of r.gamesHowell.pairs.entries()) {
    const { value, standardUncertainty, degreesOfFreedom } = differences[i]!.difference
    expect(value).toBeCloseTo(d, 9)
    expect(standardUncertainty).toBeCloseTo(u, 9)
    expect(degreesOfFreedom).toBeCloseTo(df, 8)
    expect(adjustedP(value / standardUncertainty, { groups: 3, degreesOfFreedom })).toBeCloseTo(p, 6)
    // R gives the quantile to four decimals.
    const half = simultaneousFactor({ groups: 3, degreesOfFreedom }) * standardUncertainty
    expect(value - half).toBeCloseTo(low, 3)
    expect(value + half).toBeCloseTo(high, 3)
  }
})

it('keeps photograph and bottle apart when coupons repeat in both, as lme4 does', () => {
  const observations = lone(r.machines).map((one, i) => ({
    ...one,
    photo: `p${r.machines.photo[i]}`,
    bottle: `b${r.machines.bottle[i]}`,
  }))
  const { method, differences, sources } = valueOf(compareGroups(observations))
  expect(method).toBe('mixed')
  expect(sources.map(({ source }) => source)).toEqual(['photo', 'bottle', 'rest'])
  for (const [i, { difference }] of differences.entries()) {
    expect(relativeError(difference.standardUncertainty, r.machines.standardErrors[i]!)).toBeLessThan(1e-5)
    expect(relativeError(difference.degreesOfFreedom!, r.machines.degreesOfFreedom[i]!)).toBeLessThan(1e-3)
  }
})

const draw = normalDraws(11)
const coupons = (group: string, photo: string, count: number, more: Partial<Observation> = {}): Observation[] =>
  Array.from({ length: count }, (_, i) => ({
    group,
    value: 0.05 + 0.004 * draw(),
    standardUncertainty: 0.015,
    photo,
    photoUncertainty: 0,
    coupon: `${group}-${photo}-${i}`,
    exposureS: 2,
    ...more,
  }))

it("adds the photographs' stated uncertainty to groups on different photographs, not on one", () => {
  const apart = valueOf(compareGroups([...coupons('A', 'p1', 4), ...coupons('B', 'p2', 4)]))
  expect(apart.differences[0]!.statedVariance).toBeCloseTo(2 * 0.015 ** 2, 12)
  const together = valueOf(compareGroups([...coupons('A', 'p1', 4), ...coupons('B', 'p1', 4)]))
  expect(together.differences[0]!.statedVariance).toBe(0)
  // Half of A lies beside B: the shares differ by a half on each photograph.
  const half = valueOf(compareGroups([...coupons('A', 'p1', 2), ...coupons('A', 'p2', 2), ...coupons('B', 'p1', 4)]))
  expect(half.differences[0]!.statedVariance).toBeCloseTo(0.5 * 0.015 ** 2, 12)
})

it('adds what a photograph adds of itself wherever the groups lie on different ones', () => {
  const more = { photoUncertainty: 0.006 }
  const apart = valueOf(compareGroups([...coupons('A', 'p1', 4, more), ...coupons('B', 'p2', 4, more)]))
  expect(apart.differences[0]!.statedVariance).toBeCloseTo(2 * (0.015 ** 2 + 0.006 ** 2), 12)
  const single = valueOf(compareGroups([...coupons('A', 'p1', 1, more), ...coupons('B', 'p2', 1, more)]))
  expect(single.differences[0]!.difference.standardUncertainty ** 2).toBeCloseTo(2 * (0.015 ** 2 + 0.006 ** 2), 12)
  // On one photograph it cancels.
  const together = valueOf(compareGroups([...coupons('A', 'p1', 1, more), ...coupons('B', 'p1', 1, more)]))
  expect(together.differences[0]!.difference.standardUncertainty ** 2).toBeCloseTo(2 * 0.015 ** 2, 12)
})

it('lets stated uncertainties stand alone for one coupon a group', () => {
  const { method, differences } = valueOf(compareGroups([...coupons('A', 'p1', 1), ...coupons('B', 'p1', 1)]))
  expect(method).toBe('stated')
  expect(differences[0]!.difference.standardUncertainty).toBeCloseTo(0.015 * Math.SQRT2, 12)
})

it('takes the exposure out when both groups ran through the same ladder', () => {
  const ladder = (group: string) =>
    [1.6, 2, 2.5, 3.1].flatMap((exposureS) =>
      coupons(group, 'p1', 1, { exposureS, coupon: `${group}${exposureS}`, value: exposureS + 0.001 * draw() }),
    )
  const { method, terms, differences } = valueOf(compareGroups([...ladder('A'), ...ladder('B')]))
  expect(method).toBe('pooled')
  expect(terms.exposureRemoved).toBe(true)
  // Exposure moves the value by 0.5 a rung, the scatter is 0.001; left in, it would be 0.4.
  expect(differences[0]!.difference.standardUncertainty).toBeLessThan(0.002)
})

it('tells when exposures or bottles cannot be told from the groups', () => {
  const exposures = [...coupons('A', 'p1', 3, { exposureS: 2 }), ...coupons('B', 'p1', 3, { exposureS: 3 })]
  expect(valueOf(compareGroups(exposures)).terms.exposureConfounded).toBe(true)
  const bottles = [
    ...coupons('A', 'p1', 3, { bottle: 'x' }),
    ...coupons('B', 'p1', 2, { bottle: 'y' }),
    ...coupons('C', 'p1', 2, { bottle: 'y' }),
  ]
  expect(valueOf(compareGroups(bottles)).terms.bottleConfounded).toBe(true)
})
