import erf from '@stdlib/math-base-special-erf'
import { sampleStandardDeviation, mean } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { fitEdges } from '../../../analysis/lines/edge-fit.js'
import type { EdgeProfile } from '../../../analysis/lines/edge-profile.js'
import { searchGrooves } from '../../../analysis/lines/groove-search.js'
import { normalDraws } from '../../support/random.js'

const phi = (u: number) => 0.5 * (1 + erf(u / Math.SQRT2))

/** A profile of blurred edges with white noise, one sample every `step`. */
function profileOf(
  edges: readonly number[],
  levels: readonly number[],
  {
    blur,
    noise,
    step,
    from,
    to,
    seed,
  }: { blur: number; noise: number; step: number; from: number; to: number; seed: number },
): EdgeProfile {
  const n = Math.round((to - from) / step)
  const deviates = normalDraws(seed)
  const positionMm = Float64Array.from({ length: n }, (_, i) => from + (i + 0.5) * step)
  const light = positionMm.map(
    (x) =>
      edges.reduce(
        (sum, e, j) => sum + ((levels[j + 1] ?? 0) - (levels[j] ?? 0)) * phi((x - e) / blur),
        levels[0] ?? 0,
      ) +
      noise * deviates(),
  )
  return { positionMm, light, count: new Float64Array(n).fill(1), mmPerPx: 4 * step, fromMm: from, toMm: to }
}

describe('against the Cramer-Rao bound', () => {
  // Bound for an edge A Phi((x - e) / s) sampled every D with white noise sn, levels and blur unknown, window L:
  // var >= 2 sqrt(pi) s D sn^2 / (A^2 (1 - 2 sqrt(pi) s / L)); derived from the Fisher information, in line with
  // Gatherer, Stanford CSL-TR-93-560 (1993). For s = 1 px, D = 1 px, A / sn = 50, L = 40: 0.0394442 px.
  it('a single edge scatters by no more than 1.1 times the bound, without bias', () => {
    const [blur, step, noise, length] = [1, 1, 1 / 50, 40]
    const edges = Array.from({ length: 1500 }, (_, seed) => {
      const truth = 20 + (seed % 10) / 10
      const profile = profileOf([truth], [0, 1], { blur, noise, step, from: 0, to: length, seed })
      const fit = fitEdges(profile, [truth + 0.3], { blurMm: blur })
      return fit.ok ? [(fit.value.edgesMm[0] ?? NaN) - truth] : []
    }).flat()
    // One sample a pixel and one row: now and then noise makes the blur vanish between two samples. A grating has rows.
    expect(edges.length).toBeGreaterThan(1490)
    const bound = 0.0394442
    // The scatter of 1500 repeats is known to 1.8 % (1 / sqrt(2 n)): five times that below, and 1.1 above.
    expect(sampleStandardDeviation(edges) / bound).toBeGreaterThan(0.91)
    expect(sampleStandardDeviation(edges) / bound).toBeLessThan(1.1)
    expect(Math.abs(mean(edges))).toBeLessThan((4 * bound) / Math.sqrt(1500))
  })
})

describe('a grating of ten grooves', () => {
  const pitch = 0.8
  const groove = 0.36
  const edges = Array.from({ length: 10 }, (_, i) => 0.5 + i * pitch).flatMap((x) => [x, x + groove])
  const levels = Array.from({ length: 21 }, (_, i) => (i % 2 === 0 ? 0.8 + 0.05 * Math.sin(i) : 0.05))
  const profile = profileOf(edges, levels, { blur: 0.05, noise: 0.004, step: 0.01, from: 0.1, to: 8.6, seed: 5 })

  it('is found from a nominal that is 0.1 mm off and 0.08 mm too wide', () => {
    const nominal = edges.map((e, j) => e + 0.1 + (j % 2 === 0 ? -0.04 : 0.04))
    const guess = searchGrooves(profile, nominal, { reachMm: 0.14, lower: [-0.1, 0.1], upper: [0, 0], symmetric: true })
    // Half a step of the search each for shift and width, 0.02 mm.
    guess.edgesMm.forEach((e, j) => expect(Math.abs(e - (edges[j] ?? 0))).toBeLessThan(0.021))
    expect(guess.contrast).toBeGreaterThan(0.6)
  })

  it('gives every edge back within its noise, each bar with its own level', () => {
    const fit = fitEdges(
      profile,
      edges.map((e, j) => e + (j % 2 ? 0.02 : -0.02)),
      { blurMm: 0.06 },
    )
    if (!fit.ok) throw new Error(fit.refusal.code)
    // Bound per edge by the formula above: 0.004 / 0.75 * 1.88 * sqrt(0.05 * 0.01) = 0.22 um; five of them.
    fit.value.edgesMm.forEach((e, j) => expect(Math.abs(e - (edges[j] ?? 0))).toBeLessThan(0.0012))
    fit.value.levels.forEach((l, j) => expect(Math.abs(l - (levels[j] ?? 0))).toBeLessThan(0.01))
    expect(Math.abs(fit.value.blurMm - 0.05)).toBeLessThan(0.001)
  })
})

it('a profile with fewer samples than unknowns is refused, not fitted', () => {
  const short = profileOf([1, 2], [0, 1, 0], { blur: 0.1, noise: 0, step: 0.5, from: 0, to: 3, seed: 1 })
  const fit = fitEdges(short, [1, 2], { blurMm: 0.1 })
  expect(fit.ok ? 'fitted' : fit.refusal.code).toBe('edges-not-found')
})
