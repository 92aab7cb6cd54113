import { expect, it } from 'vitest'
import { controlChart } from '../../../analysis/compare/control-chart.js'
import { findChange } from '../../../analysis/compare/change-point.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'
import { readReference } from '../../support/reference.js'

// NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4, doi:10.18434/M32189: target 50, s 2.0539, lambda 0.3,
// limits 52.5884 and 47.4115, as quoted in a public repository that cites the page.
const handbook = {
  values: [
    ...[52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5],
    ...[49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
  ],
  averages: [
    ...[50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33],
    ...[50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99],
  ],
}

it("gives the handbook's averages and limits", () => {
  const known = { centre: 50, sigma: 2.0539 }
  const { ewma } = valueOf(controlChart(handbook.values, { lambda: 0.3, known }))
  for (const [i, value] of handbook.averages.entries()) expect(ewma.values[i]).toBeCloseTo(value, 2)
  // The handbook takes the limits of full memory, and cuts sqrt(0.3 / 1.7) to 0.4201.
  const long = valueOf(controlChart(Array<number>(200).fill(50), { lambda: 0.3, known })).ewma.limits.at(-1)!
  expect(long[0]).toBeCloseTo(47.4115, 2)
  expect(long[1]).toBeCloseTo(52.5884, 2)
  expect(ewma.out).toEqual([])
})

it("gives the handbook's individuals chart", () => {
  // NIST/SEMATECH e-Handbook 6.3.2.2, flow rates of ten batches: mean 50.81, mean moving range 1.8778, limits 55.8041 and
  // 45.8159, as quoted in a public repository that cites the page.
  const { centre, sigma, individual } = valueOf(controlChart(handbook.values.slice(10), { baseline: 10 }))
  expect(centre).toBeCloseTo(50.81, 10)
  expect(1.128 * sigma).toBeCloseTo(1.8778, 4)
  expect(individual.limits[0]).toBeCloseTo(45.8159, 4)
  expect(individual.limits[1]).toBeCloseTo(55.8041, 4)
  expect(individual.out).toEqual([])
})

it('takes the scatter from moving ranges, so that a slow drift within the baseline hardly widens the limits', () => {
  // Ranges 1, 1, 1, 1: sigma 1 / 1.128.
  const chart = valueOf(controlChart([0, 1, 0, 1, 0, 1, 9], { baseline: 5 }))
  expect(chart.sigma).toBeCloseTo(1 / 1.128, 12)
  expect(chart.centre).toBeCloseTo(0.4, 12)
  expect(chart.individual.out).toEqual([6])
})

it('shows a shift by the moving average before any single reading does', () => {
  const draw = normalDraws(7)
  const values = Array.from({ length: 60 }, (_, i) => draw() + (i < 30 ? 0 : 1.5))
  const { individual, ewma } = valueOf(controlChart(values, { known: { centre: 0, sigma: 1 } }))
  expect(ewma.out[0]).toBeGreaterThanOrEqual(30)
  expect(ewma.out[0]).toBeLessThan(individual.out[0]!)
})

it('refuses too few readings', () => {
  expect(controlChart([1, 2, 3, 4, 5])).toMatchObject({ ok: false, refusal: { code: 'too-few-readings' } })
})

it('finds the change in the flow of the Nile where R finds it', () => {
  const { nile } = readReference<{ nile: { firstYear: number; y: number[]; lastBefore: number; t: number } }>(
    'compare-groups',
  )
  const change = valueOf(findChange(nile.y))
  expect(change.lastBefore).toBe(nile.lastBefore)
  // 1898, the year before the first dam, is the known answer (Cobb, Biometrika 65 (1978) 243).
  expect(nile.firstYear + change.lastBefore).toBe(1898)
  expect(relativeError(-change.t, nile.t)).toBeLessThan(1e-9)
  expect(change.pAtMost).toBeLessThan(1e-9)
})

it('calls no change in noise more often than it says', () => {
  const draw = normalDraws(3)
  const found = Array.from({ length: 400 }, () => valueOf(findChange(Array.from({ length: 12 }, draw)))).filter(
    ({ pAtMost }) => pAtMost < 0.05,
  ).length
  // At most 5 %, binomial standard deviation 1.1 %: the bound holds, and is not so loose that nothing is ever called.
  expect(found / 400).toBeLessThan(0.075)
  expect(found).toBeGreaterThan(0)
})
