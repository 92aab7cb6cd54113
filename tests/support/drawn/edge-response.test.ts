import { expect, it } from 'vitest'
import { edgeResponse, edgeTable, lookUp, normalShare } from './edge-response.js'

/** The same light by brute force: a fine grid over the pixel, the normal distribution integrated anew at each point. */
function summed(distancePx: number, sigmaPx: number, angle: number): number {
  const n = 60
  let sum = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const d = distancePx + ((i + 0.5) / n - 0.5) * Math.cos(angle) + ((j + 0.5) / n - 0.5) * Math.sin(angle)
      sum += normalBelow(d / sigmaPx)
    }
  return sum / (n * n)
}

/** Integral of the normal density by Simpson's rule from -8 standard deviations. */
function normalBelow(x: number): number {
  const n = 400
  const h = (x + 8) / n
  let sum = 0
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * Math.exp(-((-8 + i * h) ** 2) / 2)
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI)
}

it.each([0, 0.0005, 0.2, Math.PI / 4])('is the light on a square pixel beside an edge turned by %f rad', (angle) => {
  for (const sigmaPx of [0.4, 0.8, 1.6])
    for (const distancePx of [-1.3, -0.4, 0, 0.7]) {
      const closed = edgeResponse(distancePx, sigmaPx, Math.cos(angle), Math.sin(angle))
      // Midpoints h apart err by h^2 / 24 of the curvature, 0.242 / 0.4^2 at most: 1.8e-5.
      expect(Math.abs(closed - summed(distancePx, sigmaPx, angle))).toBeLessThan(2e-5)
    }
})

it('has half the light at the edge and the rest in mirror image', () => {
  const table = edgeTable(0.9, 0.3)
  expect(lookUp(table, 0)).toBeCloseTo(0.5, 12)
  for (const d of [0.21, 1.4, 3]) expect(lookUp(table, d) + lookUp(table, -d)).toBeCloseTo(1, 9)
})

it('is tabled to 1e-5, and ends at 0 and 1 without a step', () => {
  const table = edgeTable(0.8, Math.PI / 6)
  for (let d = -3; d < 3; d += 0.0137)
    // Linear between entries h apart errs by h^2 / 8 of the curvature, 0.35 at most here: 3e-6.
    expect(Math.abs(lookUp(table, d) - edgeResponse(d, 0.8, Math.cos(Math.PI / 6), 0.5))).toBeLessThan(4e-6)
  expect(lookUp(table, -table.reachPx + 1e-6)).toBeLessThan(1e-8)
  expect(lookUp(table, table.reachPx - 1e-6)).toBeGreaterThan(1 - 1e-8)
})

it('gives the share of a normal distribution', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, table of the standard normal distribution.
  expect(normalShare(1)).toBeCloseTo(0.84134, 4)
  expect(normalShare(-1.96)).toBeCloseTo(0.025, 4)
})
