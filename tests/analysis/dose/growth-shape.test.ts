import { expect, it } from 'vitest'
import { SHAPES, sizeForGrowth } from '../../../analysis/dose/growth-shape.js'
import { relativeError } from '../../support/outcomes.js'

const { threshold } = SHAPES

// Edge of a Gaussian-blurred image at a threshold, x = sqrt(2) s erfcinv(2 Ec / E) and its derivative by ln E, both over
// the blur s: closed form, computed with scipy and checked with mpmath.
it.each([
  [1.5, -0.4307272992954575, 1.8335178212417136],
  [2, 0, 1.2533141373155001],
  [3, 0.4307272992954576, 0.9167589106208566],
  [5, 0.8416212335729143, 0.7143828693154721],
])('is the edge of a blurred image at %s times the critical exposure', (timesCritical, growth, slope) => {
  const parameters = [1, Math.log(2)]
  const u = Math.log(timesCritical)
  expect(Math.abs(threshold.growthUm(parameters, u) - growth)).toBeLessThan(1e-14)
  expect(relativeError(threshold.slopeUm(parameters, u), slope)).toBeLessThan(1e-13)
  expect(Math.abs(sizeForGrowth(1, u, growth) - Math.log(2))).toBeLessThan(1e-14)
})

// Isolated line and space 0.2 mm wide under a blur of 0.03 mm: widths where E/2 (erf - erf) reaches Ec, computed with scipy
// from both edges together. Growth per side is that of one edge alone.
it.each([
  [1.2, 0.1419547045888024, 0.25804529396610015],
  [1.5, 0.1741563620052203, 0.22584363795762344],
  [2, 0.2, 0.2],
  [3, 0.22584363795762344, 0.1741563620052203],
  [5, 0.2504972740144914, 0.14950272537378756],
])('widens an isolated line and narrows an isolated space at %s times the critical exposure', (ratio, line, space) => {
  const growthMm = threshold.growthUm([0.03, Math.log(2)], Math.log(ratio))
  // The edges lie five blurs and more apart, so that the light of one hardly reaches the other.
  expect(Math.abs(0.2 + 2 * growthMm - line)).toBeLessThan(1e-8)
  expect(Math.abs(0.2 - 2 * growthMm - space)).toBeLessThan(1e-8)
})

it('moves the edge of accumulated light as that of one layer with as much more of it', () => {
  // Layers of 0.05 mm over a depth of 0.3 mm add up to 6.513882463 exposures (closed form 1 / (1 - exp(-h / Dp))).
  const gain = 1 / -Math.expm1(-0.05 / 0.3)
  expect(gain).toBeCloseTo(6.513882463097456, 12)
  const [one, all] = [Math.log(2), Math.log(2 / gain)]
  for (const u of [0.2, 0.7, 1.4]) {
    expect(threshold.growthUm([30, all], u - Math.log(gain))).toBeCloseTo(threshold.growthUm([30, one], u), 12)
  }
})

it('has no growth below the critical exposure', () => {
  expect(threshold.growthUm([30, Math.log(2)], -0.01)).toBeNaN()
})

it.each(Object.values(SHAPES).map((shape) => [shape.name, shape] as const))(
  'has the derivatives of its growth: %s',
  (_, shape) => {
    const parameters = [12, 0.3, -4].slice(0, shape.parameterCount)
    const h = 1e-6
    shape.gradient(parameters, 0.2).forEach((derivative, j) => {
      const moved = (by: number) =>
        shape.growthUm(
          parameters.map((p, i) => (i === j ? p + by : p)),
          0.2,
        )
      // What is left is rounding over the small step.
      expect(derivative).toBeCloseTo((moved(h) - moved(-h)) / (2 * h), 6)
    })
  },
)
