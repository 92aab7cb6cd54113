import { describe, expect, it } from 'vitest'
import { biotNumber, slabSolver, type Slab } from '../../../analysis/finish/slab-conduction.js'

/** Temperatures after `seconds` from a uniform start. */
function after(slab: Slab, seconds: number, given: { start: number; outside: number; source?: number }, cells = 60) {
  const steps = 2000
  const solver = slabSolver(slab, seconds / steps, cells)
  const t = new Float64Array(cells).fill(given.start)
  const source = new Float64Array(cells).fill(given.source ?? 0)
  for (let i = 0; i < steps; i++) solver.step(t, source, given.outside)
  return { t, depthsMm: solver.depthsMm }
}

/** Roots of zeta tan(zeta) = Bi by bisection, and the series built on them: Carslaw and Jaeger, 3.11. */
function slabSeries(bi: number, fo: number, place: number): number {
  let sum = 0
  for (let n = 0; n < 60; n++) {
    let [low, high] = [n * Math.PI, (n + 0.5) * Math.PI]
    for (let i = 0; i < 200; i++) {
      const middle = (low + high) / 2
      if (middle * Math.sin(middle) < bi * Math.cos(middle) === (n % 2 === 0)) low = middle
      else high = middle
    }
    const zeta = low
    sum +=
      ((4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta))) * Math.exp(-zeta * zeta * fo) * Math.cos(zeta * place)
  }
  return sum
}

describe('published examples', () => {
  it('brings the middle of a steel plate to 550 degrees in the 860 s of the textbook', () => {
    // Incropera et al., Fundamentals of Heat and Mass Transfer, 7th ed., problem 5.49: 100 mm, k = 48, rho = 7830,
    // c = 550, h = 250, from 200 degrees in gas at 800: Bi 0.260, zeta 0.488, C1 1.0396, 860 s.
    const steel: Slab = {
      thicknessMm: 100,
      conductivityWPerMK: 48,
      heatCapacityJPerM3K: 7830 * 550,
      transferWPerM2K: 250,
    }
    expect(biotNumber(steel)).toBeCloseTo(0.26, 3)
    const { t } = after(steel, 860, { start: 200, outside: 800 }, 101)
    // The printed time has three digits, and the middle warms by 0.3 K a second.
    expect(Math.abs(t[50]! - 550)).toBeLessThan(1)
  })

  it.each([
    // First root and coefficient of the plane wall, as tables of transient conduction print them [from memory].
    [0.1, 0.3111, 1.0161],
    [1, 0.8603, 1.1191],
    [10, 1.4289, 1.262],
  ])('cools the middle at Bi %f as the one-term table says', (bi, zeta, c1) => {
    const slab: Slab = { thicknessMm: 4, conductivityWPerMK: 0.2, heatCapacityJPerM3K: 2e6, transferWPerM2K: bi * 100 }
    const fo = 0.8
    const cells = 101
    const { t } = after(slab, (fo * 0.002 ** 2 * 2e6) / 0.2, { start: 1, outside: 0 }, cells)
    // Four printed digits, and what the second term adds at Fo = 0.8: below 1e-3.
    expect(t[50]).toBeCloseTo(c1 * Math.exp(-zeta * zeta * fo), 3)
  })
})

describe('closed forms', () => {
  const resin: Slab = { thicknessMm: 4, conductivityWPerMK: 0.2, heatCapacityJPerM3K: 2.12e6, transferWPerM2K: 300 }

  it('follows the series at every depth while the front has hardly reached the middle', () => {
    const seconds = 6
    const fo = (0.2 / 2.12e6) * (seconds / 0.002 ** 2)
    const { t, depthsMm } = after(resin, seconds, { start: 1, outside: 0 }, 200)
    const worst = Math.max(...depthsMm.map((mm, i) => Math.abs(t[i]! - slabSeries(3, fo, (mm - 2) / 2))))
    // Second order: 200 cells leave dx^2 / 24 of the curvature.
    expect(worst).toBeLessThan(2e-4)
  })

  it('settles under a uniform source at the parabola: q L / 8k above the faces in the middle', () => {
    // Steady slab with source: 800 W/m2 absorbed evenly over 4 mm, k = 0.2: 2 K; faces 800 / 2 / 300 above the bath.
    const { t } = after(resin, 3000, { start: 20, outside: 20, source: 800 / 0.004 }, 101)
    expect(t[50]! - 20).toBeCloseTo(800 / 600 + (800 * 0.004) / (8 * 0.2), 3)
  })

  it('is a lumped exponential when the Biot number is small', () => {
    const thin: Slab = { ...resin, thicknessMm: 0.5, transferWPerM2K: 10 }
    expect(biotNumber(thin)).toBeLessThan(0.1)
    const tau = (2.12e6 * 0.0005) / 20
    const { t } = after(thin, tau, { start: 1, outside: 0 })
    // Bi = 0.0125: the lumped form is off by about Bi / 3 of the rate.
    expect(t[30]).toBeCloseTo(Math.exp(-1), 2)
  })

  it('does not ring when a step is long against the diffusion over a cell', () => {
    const solver = slabSolver(resin, 60, 100)
    const t = new Float64Array(100).fill(100)
    solver.step(t, new Float64Array(100), 20)
    expect(Math.min(...t)).toBeGreaterThan(20 - 10)
    for (let i = 0; i < 50; i++) solver.step(t, new Float64Array(100), 20)
    expect(Math.max(...t.map((one) => Math.abs(one - 20)))).toBeLessThan(1e-3)
  })
})
