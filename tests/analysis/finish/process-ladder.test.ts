import { expect, it } from 'vitest'
import { readProcessLadder, type ProcessReading } from '../../../analysis/finish/process-ladder.js'
import { valueOf } from '../../support/outcomes.js'

const coupons = (rows: readonly (readonly [string | number, number])[]): ProcessReading[] =>
  rows.map(([level, value], i) => ({
    level: String(level),
    value,
    standardUncertainty: 0.01,
    coupon: `slot ${i + 1}`,
    photo: 'one',
    photoUncertainty: 0.006,
  }))

it('gives post-cure the least time at 95 % of the plateau', () => {
  // Exact points of 0.3 - 0.2 (1 - exp(-t / 5)), then +-0.001: ln 20 x 5 = 15.0 min.
  const at = (t: number, i: number) => 0.3 - 0.2 * (1 - Math.exp(-t / 5)) + (i % 2 ? 0.001 : -0.001)
  const answer = valueOf(
    readProcessLadder('post-cure-time', coupons([0, 3, 6, 10, 20, 40].map((t, i) => [t, at(t, i)]))),
  )
  if (answer.model !== 'saturating') throw new Error(answer.model)
  expect(answer.fit.enough.value).toBeCloseTo(5 * Math.log(20), 0)
  expect(answer.fit.reached).toBe(true)
})

it('compares each grit with the one before by Welch, and says which differences show', () => {
  // Two groups as in any text: means 0.40 and 0.20, sds 0.02 each of 3: difference -0.2 +- 2.776 x 0.02 sqrt(2/3).
  const rows = coupons([
    ['P 400', 0.38],
    ['P 400', 0.4],
    ['P 400', 0.42],
    ['P 800', 0.18],
    ['P 800', 0.2],
    ['P 800', 0.22],
    ['P 1200', 0.19],
    ['P 1200', 0.2],
    ['P 1200', 0.21],
  ])
  const answer = valueOf(readProcessLadder('grit', rows))
  if (answer.model !== 'steps') throw new Error(answer.model)
  const [first, second] = answer.differences
  expect(first).toMatchObject({ from: 'P 400', to: 'P 800', told: true })
  expect(first!.difference.value).toBeCloseTo(-0.2, 12)
  expect(first!.interval[1]).toBeCloseTo(-0.2 + 2.776 * 0.02 * Math.sqrt(2 / 3), 4)
  expect(second!.told).toBe(false)
})

it('takes temperature and age as trends', () => {
  const answer = valueOf(
    readProcessLadder(
      'age',
      coupons([
        [0, 1],
        [30, 1.3],
        [60, 1.6],
        [90, 1.91],
      ]),
    ),
  )
  if (answer.model !== 'line') throw new Error(answer.model)
  // Least squares by hand: slope 0.01010 a day.
  expect(answer.trend.slope.value).toBeCloseTo(0.0101, 6)
  expect(answer.told).toBe(true)
})

it('refuses names where numbers are due, and a ladder of one level', () => {
  const code = (outcome: ReturnType<typeof readProcessLadder>) => !outcome.ok && outcome.refusal.code
  expect(
    code(
      readProcessLadder(
        'age',
        coupons([
          ['old', 1],
          ['new', 2],
        ]),
      ),
    ),
  ).toBe('not-a-number')
  expect(
    code(
      readProcessLadder(
        'grit',
        coupons([
          ['P 400', 1],
          ['P 400', 2],
        ]),
      ),
    ),
  ).toBe('one-level')
})

it('gives a trend with the reason where no plateau shows', () => {
  const rising = coupons([0, 2, 5, 10, 20, 40].map((t) => [t, 0.1 + 0.002 * t]))
  const answer = valueOf(readProcessLadder('post-cure-time', rising))
  if (answer.model !== 'line') throw new Error(answer.model)
  expect(answer.noPlateau!.code).toBe('no-plateau')
  expect(answer.trend.slope.value).toBeCloseTo(0.002, 9)
})
