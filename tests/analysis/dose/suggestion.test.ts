import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  suggestExposure,
  type LadderRung,
  type Suggestion,
  type SuggestionOptions,
} from '../../../analysis/dose/suggestion.js'
import { makeRungs } from '../../support/ladders.js'

const EXPOSURES = [1.6, 1.9, 2.3, 2.7, 3.3, 3.9]
/** 30 um per ln(exposure), zero at `sizeS`, without noise; 1 um claimed. */
const ladder = (sizeS: number) => makeRungs(EXPOSURES.map((e) => [e, 30 * Math.log(e / sizeS)]))

function suggested(rungs: readonly LadderRung[], options?: SuggestionOptions) {
  const outcome = suggestExposure(rungs, options)
  if (!outcome.ok) throw new Error(`refused as ${outcome.refusal.code}: ${outcome.refusal.detail}`)
  return outcome.value
}
function refused(rungs: readonly LadderRung[], options?: SuggestionOptions) {
  const outcome = suggestExposure(rungs, options)
  if (outcome.ok) throw new Error(`suggested ${outcome.value.exposureS} s`)
  return outcome.refusal
}

const limitsOf = ({ limits }: Suggestion) => limits.map(({ inWords }) => inWords).join('; ')

describe('on a ladder that brackets dose-to-size', () => {
  const suggestion = suggested(ladder(2.44))

  it('suggests it, rounded to the time step, with its interval', () => {
    expect(suggestion.exposureS).toBe(2.4)
    expect(suggestion.chosenBy).toBe('dose-to-size')
    expect(suggestion.intervalS).toEqual(suggestion.doseToSize.intervalS)
    expect(suggestion.intervalS[0]).toBeLessThan(2.44)
    expect(suggestion.intervalS[1]).toBeGreaterThan(2.44)
    expect(suggestion.limits).toEqual([])
  })

  it('expects the growth that rounding leaves, and says what a step changes', () => {
    expect(suggestion.expectedGrowthUm.value).toBeCloseTo(30 * Math.log(2.4 / 2.44), 9)
    expect(suggestion.growthPerStepUm).toBeCloseTo((30 * 0.1) / 2.4, 9)
  })

  it('says how sure it is, and that no caliper anchors it', () => {
    expect(suggestion.confidence).toMatch(
      /^With 95 % confidence dose-to-size lies between 2\.\d\d and 2\.\d\d s \(-\d % to \+\d %\), from 6 rungs, 3 of them too small and 3 too big\. No caliper reading of the tabs anchors it\.$/,
    )
    const shared = suggested(ladder(2.44), { commonUncertaintyUm: 5 })
    expect(shared.confidence).toContain('offset shared by the whole photo')
    expect(suggested(ladder(1.63), { commonUncertaintyUm: 5 }).confidence).toContain('or below the lowest rung')
  })

  it('proposes the rungs that would make it surer, among those printed', () => {
    const { exposuresS, halfWidthNowPercent, halfWidthAfterPercent } = suggestion.nextLadder
    expect(exposuresS).toHaveLength(4)
    expect(exposuresS[0]).toBeGreaterThanOrEqual(1.6)
    expect(exposuresS[3]).toBeLessThanOrEqual(3.9)
    expect(halfWidthAfterPercent).toBeLessThan(halfWidthNowPercent)
  })

  it('rounds to the step of the printer', () => {
    expect(suggested(ladder(2.44), { timeStepS: 0.5 }).exposureS).toBe(2.5)
    expect(suggested(ladder(2.44), { timeStepS: 0.05 }).exposureS).toBe(2.45)
  })
})

describe('with features that must survive', () => {
  const withFeatures = (line: (number | null)[], space: (number | null)[]): LadderRung[] =>
    ladder(2.44).map((rung, i) => ({ ...rung, smallestLineUm: line[i], smallestSpaceUm: space[i] }))
  const lines = [null, 400, 300, 200, 200, 100]
  const spaces = [100, 100, 200, 200, 300, 400]

  it('stays with dose-to-size where they do', () => {
    const suggestion = suggested(withFeatures(lines, spaces), { wantedLineUm: 300, wantedSpaceUm: 300 })
    expect(suggestion.chosenBy).toBe('dose-to-size')
    expect(suggestion.narrowest).toEqual({ lineUm: 300, spaceUm: 200 })
  })

  it('moves up for a thin line and down for a narrow space, to a rung at which it was seen', () => {
    const up = suggested(withFeatures(lines, spaces), { wantedLineUm: 200 })
    expect(up).toMatchObject({ exposureS: 2.7, chosenBy: 'survival' })
    expect(up.limits).toEqual([{ by: 'walls', inWords: '0.2 mm walls, which stand only from 2.7 s up' }])
    expect(up.intervalS[0]).toBeLessThan(2.7)
    expect(up.intervalS[1]).toBeGreaterThan(2.7)
    const down = suggested(withFeatures(lines, spaces), { wantedSpaceUm: 100 })
    expect(down).toMatchObject({ exposureS: 1.9, chosenBy: 'survival' })
    expect(down.limits).toEqual([{ by: 'gaps', inWords: '0.1 mm gaps, which stay open only up to 1.9 s' }])
  })

  it('says so when growth there exceeds the tolerance', () => {
    const far = suggested(withFeatures(lines, spaces), { wantedLineUm: 100, toleranceUm: 10 })
    expect(limitsOf(far)).toBe(
      '0.1 mm walls, which stand only from 3.9 s up; growth, which exceeds the tolerance of 10 um',
    )
    expect(far.limits.map(({ by }) => by)).toEqual(['walls', 'growth'])
  })

  it('falls back on dose-to-size, and says why, when no exposure keeps them', () => {
    const lost = suggested(withFeatures(lines, spaces), { wantedLineUm: 50 })
    expect(lost).toMatchObject({ exposureS: 2.4, chosenBy: 'dose-to-size' })
    expect(limitsOf(lost)).toContain('a line of 50 um does not stand at the highest exposure')
    const conflict = suggested(withFeatures(lines, spaces), { wantedLineUm: 200, wantedSpaceUm: 100 })
    expect(limitsOf(conflict)).toContain('stands from 2.7 s, a space of 100 um is open up to 1.9 s')
    expect(limitsOf(suggested(ladder(2.44), { wantedLineUm: 200 }))).toContain('no rung shows')
  })

  it('does not follow them to a rung whose growth could not be read', () => {
    const rungs = [...withFeatures([], []), { exposureS: 5, smallestLineUm: 100 }]
    const suggestion = suggested(rungs, { wantedLineUm: 100 })
    expect(suggestion.exposureS).toBe(2.4)
    expect(limitsOf(suggestion)).toContain('could not be read')
  })
})

describe('preferring clarity', () => {
  const withHaze = (slope: number, u: number): LadderRung[] =>
    ladder(2.44).map((rung) => ({
      ...rung,
      haze: { value: 0.1 + slope * Math.log(rung.exposureS / 2.44), standardUncertainty: u },
    }))

  it('takes the clear end of the range that is surely within tolerance, whichever end that is', () => {
    const low = suggested(withHaze(0.05, 0.002), { prefer: 'clarity', toleranceUm: 8 })
    expect(low.chosenBy).toBe('clarity')
    expect(low.limits[0]).toEqual({ by: 'haze', inWords: 'haze, which rises with exposure away from dose-to-size' })
    expect(low.exposureS).toBeGreaterThanOrEqual(low.usableRange!.confidentRangeS![0])
    expect(low.exposureS).toBeLessThan(low.usableRange!.confidentRangeS![0] + 0.1)
    const high = suggested(withHaze(-0.05, 0.002), { prefer: 'clarity', toleranceUm: 8 })
    expect(high.exposureS).toBeLessThanOrEqual(high.usableRange!.confidentRangeS![1])
    expect(high.exposureS).toBeGreaterThan(high.usableRange!.confidentRangeS![1] - 0.1)
    expect(high.expectedHaze!.value).toBeCloseTo(0.1 - 0.05 * Math.log(high.exposureS / 2.44), 9)
    expect(high.intervalS[0]).toBeLessThan(high.exposureS)
    expect(high.intervalS[1]).toBeGreaterThan(high.exposureS)
  })

  it('claims no trend that the rungs do not show', () => {
    const noisy = suggested(withHaze(0.05, 0.05), { prefer: 'clarity' })
    expect(noisy).toMatchObject({ exposureS: 2.4, chosenBy: 'dose-to-size' })
    expect(limitsOf(noisy)).toContain('haze, of which these rungs show no trend')
    expect(limitsOf(suggested(ladder(2.44), { prefer: 'clarity' }))).toContain(
      'haze, of which these rungs show no trend',
    )
  })

  it('does not trade size for clarity unless asked, or when nothing is surely within tolerance', () => {
    expect(suggested(withHaze(0.05, 0.002)).chosenBy).toBe('dose-to-size')
    const unsure = suggested(withHaze(0.05, 0.002), { prefer: 'clarity', commonUncertaintyUm: 15 })
    expect(unsure.chosenBy).toBe('dose-to-size')
    expect(limitsOf(unsure)).toContain('no exposure is within tolerance with 95 % confidence')
  })
})

describe('a trend of haze that bends', () => {
  const bowl = (leastS: number): LadderRung[] =>
    ladder(2.44).map((rung) => ({
      ...rung,
      haze: { value: 0.05 + 0.1 * Math.log(rung.exposureS / leastS) ** 2, standardUncertainty: 0.0005 },
    }))

  it('puts the clearest exposure at its least, or at the end of the range next to that', () => {
    const inside = suggested(bowl(2.7), { prefer: 'clarity' })
    expect(inside).toMatchObject({ exposureS: 2.7, chosenBy: 'clarity' })
    expect(inside.limits[0]).toEqual({ by: 'haze', inWords: 'haze, which is least near 2.7 s' })
    expect(inside.expectedHaze!.value).toBeCloseTo(0.05, 9)
    const beyond = suggested(bowl(3.3), { prefer: 'clarity', toleranceUm: 8 })
    expect(beyond.exposureS).toBeLessThanOrEqual(beyond.usableRange!.confidentRangeS![1])
    expect(beyond.exposureS).toBeGreaterThan(beyond.usableRange!.confidentRangeS![1] - 0.1)
  })
})

describe('a limit of yellowness', () => {
  const yellow = (slope: number, u = 0.0002): LadderRung[] =>
    ladder(2.44).map((rung) => ({
      ...rung,
      yellownessPerMm: { value: 0.01 + slope * Math.log(rung.exposureS / 2.44), standardUncertainty: u },
    }))

  it('moves the exposure to the nearest that keeps it, rounded inwards', () => {
    // 0.01 + 0.005 ln(t / 2.44) = 0.0095 at 2.44 exp(-0.1) = 2.208 s.
    const paler = suggested(yellow(0.005), { mostYellownessPerMm: 0.0095 })
    expect(paler).toMatchObject({ exposureS: 2.2, chosenBy: 'yellowness' })
    expect(limitsOf(paler)).toBe('yellowness, which keeps its limit of 0.0095 per mm only up to 2.21 s')
    const later = suggested(yellow(-0.005), { mostYellownessPerMm: 0.0095 })
    // 2.44 exp(0.1) = 2.697 s.
    expect(later).toMatchObject({ exposureS: 2.7, chosenBy: 'yellowness' })
    expect(later.expectedYellownessPerMm!.value).toBeLessThanOrEqual(0.0095)
  })

  it('leaves alone what keeps it, and yields to walls that would fall', () => {
    expect(suggested(yellow(0.005), { mostYellownessPerMm: 0.011 })).toMatchObject({ exposureS: 2.4, limits: [] })
    const walls = yellow(0.005).map((rung) => ({ ...rung, smallestLineUm: rung.exposureS >= 2.7 ? 100 : 200 }))
    const stands = suggested(walls, { mostYellownessPerMm: 0.0095, wantedLineUm: 100 })
    expect(stands).toMatchObject({ exposureS: 2.7, chosenBy: 'survival' })
    expect(limitsOf(stands)).toContain('above its limit of 0.0095 per mm at every exposure that is left')
  })

  it('has no say, and says so, where the rungs show no trend or were not read', () => {
    const flat = suggested(yellow(0.005, 0.01), { mostYellownessPerMm: 0.0095 })
    expect(flat).toMatchObject({ exposureS: 2.4, chosenBy: 'dose-to-size' })
    expect(limitsOf(flat)).toContain('shows no trend with exposure to choose by')
    expect(limitsOf(suggested(ladder(2.44), { mostYellownessPerMm: 0.01 }))).toContain('too few rungs were read')
  })

  it('bounds the clearest exposure too', () => {
    const both = yellow(-0.005).map((rung) => ({
      ...rung,
      haze: { value: 0.1 + 0.05 * Math.log(rung.exposureS / 2.44), standardUncertainty: 0.002 },
    }))
    const chosen = suggested(both, { prefer: 'clarity', mostYellownessPerMm: 0.0105 })
    // Haze wants the low end; 0.0105 is kept from 2.44 exp(-0.1) = 2.208 s.
    expect(chosen).toMatchObject({ exposureS: 2.3, chosenBy: 'clarity' })
    expect(chosen.limits.map(({ by }) => by)).toEqual(['haze', 'yellowness'])
  })
})

describe('when it cannot suggest', () => {
  it('asks for lower exposures when every rung is too big, reaching back to the lowest', () => {
    const { code, advice, nextLadder } = refused(ladder(1.2))
    expect(code).toBe('not-bracketed-low')
    expect(advice).toContain('lower')
    expect(nextLadder.exposuresS).toHaveLength(6)
    // Centred where the fit points, 1.2 s, and reaching up to the lowest rung.
    expect(nextLadder.exposuresS[0]).toBeLessThan(1)
    expect(nextLadder.exposuresS[5]).toBeGreaterThanOrEqual(1.6)
  })

  it('asks for higher exposures when every rung is too small', () => {
    const { code, nextLadder } = refused(ladder(5))
    expect(code).toBe('not-bracketed-high')
    expect(nextLadder.exposuresS[0]).toBeLessThanOrEqual(3.9)
    expect(nextLadder.exposuresS[5]).toBeGreaterThan(5)
  })

  it('follows a far guess no further than a factor of 3', () => {
    const { nextLadder } = refused(ladder(400))
    // Centre 3.9 * 3 = 11.7 s, six rungs over a factor of 9 about it: up to 35.1 s.
    expect(nextLadder.exposuresS.at(-1)).toBeCloseTo(35.1, 6)
  })

  it('asks for a wider ladder when growth does not visibly rise', () => {
    const flat = makeRungs(EXPOSURES.map((e, i) => [e, [0.3, -0.4, 0.2, -0.1, 0.5, -0.2][i]!]))
    const { code, nextLadder } = refused(flat)
    expect(code).toBe('flat')
    const [first, last] = [nextLadder.exposuresS[0]!, nextLadder.exposuresS[5]!]
    expect(last / first).toBeGreaterThan((3.9 / 1.6) ** 1.8)

    const allBig = makeRungs(EXPOSURES.map((e, i) => [e, 40 + [0.3, -0.4, 0.2, -0.1, 0.5, -0.2][i]!]))
    expect(refused(allBig).nextLadder.exposuresS[0]).toBeLessThan(first)
    const allSmall = makeRungs(EXPOSURES.map((e, i) => [e, -40 + [0.3, -0.4, 0.2, -0.1, 0.5, -0.2][i]!]))
    expect(refused(allSmall).nextLadder.exposuresS[5]).toBeGreaterThan(last)
  })

  it('asks to check the slots when growth falls', () => {
    const swapped = makeRungs(EXPOSURES.map((e) => [e, -30 * Math.log(e / 2.44)]))
    const { code, advice, nextLadder } = refused(swapped)
    expect(code).toBe('wrong-sign')
    expect(advice).toContain('slot')
    expect(nextLadder.exposuresS[0]).toBe(1.6)
    expect(nextLadder.exposuresS[5]).toBe(3.9)
  })

  it('asks for the same range again when fewer than three rungs could be read', () => {
    const rungs = ladder(2.44).map((rung, i) => (i < 2 ? rung : { exposureS: rung.exposureS }))
    const { code, nextLadder } = refused(rungs)
    expect(code).toBe('too-few-rungs')
    expect(nextLadder.exposuresS[0]).toBe(1.6)
    expect(nextLadder.exposuresS[5]).toBe(3.9)
    expect(refused([{ exposureS: 2 }]).nextLadder.exposuresS).toHaveLength(6)
  })

  it('asks for lower exposures when print-through closed the coupons', () => {
    const closed = EXPOSURES.map((exposureS) => ({ exposureS, closed: true }))
    const all = refused(closed)
    expect(all.code).toBe('all-closed')
    expect(all.advice).toContain('lower')
    expect(all.nextLadder.exposuresS.at(-1)).toBeLessThanOrEqual(1.6)
    expect(all.nextLadder.exposuresS[0]).toBeLessThan(0.7)
    const some = refused(ladder(2.44).map((rung, i) => (i < 2 ? rung : { exposureS: rung.exposureS, closed: true })))
    expect(some.code).toBe('too-few-rungs')
    expect(some.nextLadder.exposuresS.at(-1)).toBeLessThanOrEqual(2.3)
  })

  it('asks for a ladder about a single rung', () => {
    const { code, nextLadder } = refused(ladder(2.44).slice(2, 3))
    expect(code).toBe('too-few-rungs')
    expect(nextLadder.exposuresS).toHaveLength(6)
    expect(nextLadder.exposuresS[0]).toBeLessThan(2.3)
    expect(nextLadder.exposuresS[5]).toBeGreaterThan(2.3)
  })

  it('throws without any rung', () => {
    expect(() => suggestExposure([])).toThrow(new RangeError('suggestExposure needs at least one rung, got 0'))
  })
})

it('never leaves the rungs, and always contains its suggestion, whatever was measured', () => {
  const rung = fc.record({
    exposureS: fc.integer({ min: 8, max: 80 }).map((steps) => steps / 10),
    read: fc.integer({ min: 0, max: 9 }).map((draw) => draw > 0),
    noiseUm: fc.double({ min: -6, max: 6, noNaN: true }),
    standardUncertainty: fc.double({ min: 0.2, max: 5, noNaN: true }),
    haze: fc.double({ min: 0, max: 0.05, noNaN: true }),
  })
  const ladders = fc.record({
    rungs: fc.array(rung, { minLength: 3, maxLength: 9 }),
    sizeS: fc.double({ min: 1, max: 8, noNaN: true }),
    slopeUm: fc.double({ min: -10, max: 60, noNaN: true }),
    hazeSlope: fc.constantFrom(-0.1, 0, 0.1),
    lineFromS: fc.double({ min: 0.5, max: 5, noNaN: true }),
    spaceUpToS: fc.double({ min: 2, max: 12, noNaN: true }),
    prefer: fc.constantFrom<'size' | 'clarity'>('size', 'clarity'),
    wantedUm: fc.constantFrom(undefined, 100, 200, 200),
  })
  const seen = new Set<string>()
  fc.assert(
    fc.property(ladders, ({ rungs, sizeS, slopeUm, hazeSlope, lineFromS, spaceUpToS, prefer, wantedUm }) => {
      const printed = rungs.map(({ exposureS, read, noiseUm, standardUncertainty, haze }) => ({
        exposureS,
        growthUm: read ? { value: slopeUm * Math.log(exposureS / sizeS) + noiseUm, standardUncertainty } : undefined,
        smallestLineUm: exposureS < lineFromS ? null : 150,
        smallestSpaceUm: exposureS > spaceUpToS ? 300 : 150,
        haze: { value: 0.3 + hazeSlope * Math.log(exposureS / 3) + haze, standardUncertainty: 0.01 },
      }))
      const options = { prefer, commonUncertaintyUm: 2, wantedLineUm: wantedUm, wantedSpaceUm: wantedUm }
      const outcome = suggestExposure(printed, options)
      seen.add(outcome.ok ? outcome.value.chosenBy : outcome.refusal.code)
      if (!outcome.ok) {
        const { exposuresS } = outcome.refusal.nextLadder
        expect(exposuresS).toEqual([...new Set(exposuresS)].sort((a, b) => a - b))
        return
      }
      const { exposureS, intervalS, expectedGrowthUm, fit, chosenBy } = outcome.value
      const [low, high] = [fit.rungs[0]!.exposureS, fit.rungs.at(-1)!.exposureS]
      for (const value of [exposureS, ...intervalS]) {
        expect(value).toBeGreaterThanOrEqual(low)
        expect(value).toBeLessThanOrEqual(high)
      }
      // Rounding may step past an interval of dose-to-size narrower than the time step, by less than a step.
      const slack = chosenBy === 'dose-to-size' ? 0.1 : 0
      expect(exposureS).toBeGreaterThanOrEqual(intervalS[0] - slack)
      expect(exposureS).toBeLessThanOrEqual(intervalS[1] + slack)
      expect(Number.isFinite(expectedGrowthUm.value + expectedGrowthUm.standardUncertainty)).toBe(true)
    }),
    { seed: 11, numRuns: 2000 },
  )
  // Every rule and every refusal was put to the test.
  expect([...seen].sort()).toEqual([
    'clarity',
    'dose-to-size',
    'flat',
    'not-bracketed-high',
    'not-bracketed-low',
    'survival',
    'too-few-rungs',
    'wrong-sign',
  ])
})
