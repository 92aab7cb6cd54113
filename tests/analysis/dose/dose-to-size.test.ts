import { describe, expect, it } from 'vitest'
import { findDoseToSize, findExposureInterval, sizeByModel } from '../../../analysis/dose/dose-to-size.js'
import { evaluateGrowth, fitGrowth } from '../../../analysis/dose/growth-fit.js'
import { SHAPES, sizeForGrowth } from '../../../analysis/dose/growth-shape.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { combineUncertainty } from '../../../analysis/statistics/uncertainty.js'
import { makeRungs } from '../../support/ladders.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

const curve = readReference<{
  E_mJ_cm2: number[]
  Cd_um: number[]
  inverse_Cd150: { lnE: number; E: number; lnE_fieller95_line: [number, number] }
}>('synthetic-working-curve')

describe('the worked inverse prediction', () => {
  // A line on ln(exposure) made for this project, solved with 40-digit arithmetic: exposure for 150 um and its
  // Fieller interval. Formula: calibration form of Fieller (1954) without the term for a new observation.
  const pairs = curve.E_mJ_cm2.map((exposure, i) => [exposure, curve.Cd_um[i]!] as const)
  const fit = valueOf(fitGrowth(makeRungs(pairs), { noise: 'scatter' }))
  const dose = valueOf(findDoseToSize(fit, { targetGrowthUm: 150 }))

  it('finds the exposure and its interval', () => {
    expect(relativeError(dose.exposureS, curve.inverse_Cd150.E)).toBeLessThan(1e-12)
    // The interval is that of the line alone; the search for its ends stops within 1e-10.
    const less = valueOf(fitGrowth(makeRungs(pairs.map(([e, y]) => [e, y - 150])), { noise: 'scatter' }))
    const line = less.candidates.find(({ model }) => model === 'straight')!
    const { intervalS } = sizeByModel(less, line)!
    expect(Math.abs(Math.log(intervalS[0]) - curve.inverse_Cd150.lnE_fieller95_line[0])).toBeLessThan(1e-9)
    expect(Math.abs(Math.log(intervalS[1]) - curve.inverse_Cd150.lnE_fieller95_line[1])).toBeLessThan(1e-9)
    expect(dose.reachesEnd).toEqual({ low: false, high: false })
    expect(dose.inWords).toBe('between 12.5 s and 13.5 s with 95 % confidence')
  })

  it('does not extrapolate to the critical exposure, which lies below the lowest rung', () => {
    expect(findDoseToSize(fit)).toMatchObject({ ok: false, refusal: { code: 'not-bracketed-low' } })
  })
})

/** Edge of unit blur that prints to size at 2. */
const edgeAt = (exposures: readonly number[]) =>
  exposures.map((e) => [e, SHAPES.threshold.growthUm([1, Math.log(2)], Math.log(e))] as const)

it('finds the dose-to-size of a blurred knife edge, twice its critical exposure', () => {
  // Closed form x = sqrt(2) sigma erfcinv(2 Ec / E), sigma = 30 um, at E / Ec = 1.5, 2, 3, 4, 5.
  const edge = [
    [1.5, -0.4307273],
    [2, 0],
    [3, 0.4307273],
    [4, 0.67449],
    [5, 0.8416212],
  ] as const
  const fit = valueOf(
    fitGrowth(
      makeRungs(
        edge.map(([e, x]) => [e, 30 * x]),
        0.5,
      ),
    ),
  )
  const dose = valueOf(findDoseToSize(fit))
  expect(fit.chosen.model).toBe('threshold')
  // The table above has seven digits.
  expect(relativeError(dose.exposureS, 2)).toBeLessThan(1e-6)
  expect(dose.intervalS[0]).toBeLessThan(2)
  expect(dose.intervalS[1]).toBeGreaterThan(2)
  // Slope at size is sigma sqrt(pi / 2) = 37.599 um.
  expect(Math.abs(dose.slopeUm - 37.599)).toBeLessThan(0.001)
})

describe('the interval of one model alone', () => {
  const pairs = [
    [1.6, -16],
    [2, -5],
    [2.5, 1],
    [3.1, 8],
    [3.9, 11],
    [4.9, 15],
  ] as const
  const fit = valueOf(fitGrowth(makeRungs(pairs, 1), { commonUncertaintyUm: 2 }))

  it.each(['straight', 'quadratic'] as const)('ends, if %s, where growth is t standard uncertainties off', (name) => {
    const model = fit.candidates.find((candidate) => candidate.model === name)!
    const { intervalS } = sizeByModel(fit, model)!
    for (const end of intervalS) {
      const { growthUm, varianceUm2 } = evaluateGrowth(model, Math.log(end / fit.referenceS))
      const u = combineUncertainty([
        {
          standardUncertainty: Math.sqrt(varianceUm2),
          ...(model.degreesOfFreedom ? { degreesOfFreedom: model.degreesOfFreedom } : {}),
        },
        { standardUncertainty: 2 },
      ])
      expect(Math.abs(growthUm)).toBeCloseTo(coverageFactor(u.degreesOfFreedom) * u.standardUncertainty, 5)
    }
  })

  it('ends, if threshold, where holding growth at zero there raises the sum of squares by t squared', () => {
    // By brute force over blur and common offset; the size parameter follows from growth at the end.
    const model = fit.candidates.find((candidate) => candidate.model === 'threshold')!
    const exact = valueOf(fitGrowth(makeRungs(pairs, 1), { commonUncertaintyUm: 2, noise: 'given' }))
    const threshold = exact.candidates.find((candidate) => candidate.model === 'threshold')!
    expect(model.model).toBe(threshold.model)
    const misfit = (blur: number, size: number) =>
      pairs.reduce((sum, [e, growth]) => {
        const u = Math.log(e / exact.referenceS)
        return sum + (SHAPES.threshold.growthUm([blur, size], u) - growth) ** 2
      }, 0)
    const least = misfit(threshold.parameters[0]!, threshold.parameters[1]!)
    for (const end of sizeByModel(exact, threshold)!.intervalS) {
      const u = Math.log(end / exact.referenceS)
      const heldAt = (blur: number, offset: number) => misfit(blur, sizeForGrowth(blur, u, -offset)) + (offset / 2) ** 2
      let best = { blur: threshold.parameters[0]!, offset: 0, total: Infinity }
      for (const step of [0.5, 0.05, 0.005]) {
        const { blur: blur0, offset: offset0 } = best
        for (let i = -14; i <= 14; i++) {
          for (let j = -14; j <= 14; j++) {
            const [blur, offset] = [blur0 + i * step, offset0 + j * step]
            const total = heldAt(blur, offset)
            if (total < best.total) best = { blur, offset, total }
          }
        }
      }
      // 1.95996^2 = 3.84146; the last grid misses the minimum by less than 1e-4.
      expect(Math.abs(best.total - least - 3.84146)).toBeLessThan(2e-4)
    }
  })
})

it('allows for the rival models: an interval wider than that of the chosen one', () => {
  const rungs = makeRungs(
    edgeAt([1.7, 1.9, 2.1, 2.3, 2.6]).map(([e, x]) => [e, 30 * x + (e === 2.1 ? 1 : 0)]),
    1,
  )
  const fit = valueOf(fitGrowth(rungs))
  const alone = sizeByModel(fit, fit.chosen)!.intervalS
  const { intervalS, exposureS } = valueOf(findDoseToSize(fit))
  expect(fit.candidates[1]!.weight).toBeGreaterThan(0.1)
  expect(Math.log(intervalS[1] / intervalS[0])).toBeGreaterThan(Math.log(alone[1] / alone[0]))
  expect(intervalS[0]).toBeLessThan(exposureS)
  expect(intervalS[1]).toBeGreaterThan(exposureS)
})

it('widens with the common offset by that offset over the slope', () => {
  const rungs = makeRungs(
    [
      [1.6, -15],
      [2, -7],
      [2.5, 0],
      [3.1, 7],
      [3.9, 15],
    ],
    0.1,
  )
  const dose = valueOf(findDoseToSize(valueOf(fitGrowth(rungs, { commonUncertaintyUm: 3 }))))
  const half = Math.log(dose.intervalS[1] / dose.intervalS[0]) / 2
  // Almost all of it is the offset: 1.96 * 3 um over the slope. The rungs' own 0.1 um add under 1 %.
  expect(relativeError(half, (1.96 * 3) / dose.slopeUm)).toBeLessThan(0.01)
  expect(relativeError(dose.relativeStandardUncertainty, 3 / dose.slopeUm)).toBeLessThan(0.01)
})

describe('an interval that the ladder cannot close', () => {
  const rungs = makeRungs(
    [
      [2, -6],
      [2.4, 0],
      [2.9, 6],
    ],
    1,
  )
  const dose = valueOf(findDoseToSize(valueOf(fitGrowth(rungs, { commonUncertaintyUm: 10 }))))

  it('is cut at the rungs and says so', () => {
    expect(dose.intervalS).toEqual([2, 2.9])
    expect(dose.reachesEnd).toEqual({ low: true, high: true })
    expect(dose.inWords).toContain('below the lowest rung and above the highest rung')
  })
})

it('says so when the exposures that the data allow fall into pieces', () => {
  // A quadratic that flattens towards the top: there the last rung's doubt reaches zero growth again.
  const rungs = [
    ...makeRungs(
      [
        [1, -11],
        [1.4, -7],
        [2, -3],
        [2.8, 0],
        [4, 2],
      ],
      1,
    ),
    ...makeRungs([[8, 3]], 10),
  ]
  const fit = valueOf(fitGrowth(rungs))
  expect(fit.chosen.model).toBe('quadratic')
  const dose = valueOf(findDoseToSize(fit))
  expect(dose.shape).toBe('in-pieces')
  expect(dose.reachesEnd.high).toBe(true)
  expect(dose.inWords).toContain('some exposures between are excluded')
})

it.each([
  [
    'wrong-sign',
    [
      [2, 10],
      [2.5, 3],
      [3, -4],
    ],
    'more exposure cannot make parts smaller',
  ],
  [
    'flat',
    [
      [2, 0.2],
      [2.5, -0.3],
      [3, 0.1],
    ],
    'the data exclude no exposure at all',
  ],
  [
    'flat',
    [
      [2, 10],
      [2.5, 10.2],
      [3, 10.1],
    ],
    'the data exclude only what lies between',
  ],
  [
    'not-bracketed-low',
    [
      [2, 10],
      [2.5, 17],
      [3, 24],
    ],
    'fitted growth at 2 s is 9.8 um',
  ],
  [
    'not-bracketed-high',
    [
      [2, -30],
      [2.5, -23],
      [3, -16],
    ],
    'fitted growth at 3 s is',
  ],
] as const)('refuses as %s growths of %j', (code, pairs, detail) => {
  const outcome = findDoseToSize(valueOf(fitGrowth(makeRungs(pairs, 1))))
  if (outcome.ok) throw new Error('not refused')
  expect(outcome.refusal.code).toBe(code)
  expect(outcome.refusal.detail).toContain(detail)
})

it('gives the interval about any exposure that findDoseToSize gives for the growth there', () => {
  const fit = valueOf(
    fitGrowth(
      makeRungs(
        [
          [1.6, -15],
          [2, -7],
          [2.5, 0],
          [3.1, 7],
          [3.9, 15],
        ],
        1,
      ),
    ),
  )
  const dose = valueOf(findDoseToSize(fit, { targetGrowthUm: 5 }))
  const about = findExposureInterval(fit, dose.exposureS)
  // The search for its ends stops within 1e-10 of an exposure.
  about.intervalS.forEach((end, i) => expect(end).toBeCloseTo(dose.intervalS[i]!, 9))
  expect(about.inWords).toBe(dose.inWords)
  expect([about.reachesEnd, about.shape]).toEqual([dose.reachesEnd, dose.shape])
})
