import { beforeAll, describe, expect, it } from 'vitest'
import { combineReadings } from '../../analysis/combine/combine-readings.js'
import { compareReadings } from '../../analysis/compare/compare-readings.js'
import { leaveOut } from '../../analysis/leave-out.js'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { Factor } from '../../analysis/layout/factors.js'
import { measureLadder } from '../../analysis/measure-ladder.js'
import type { ReadLadder } from '../../analysis/result.js'
import { readingReport } from '../../server/report/reading-report.js'
import { drawPhoto } from '../support/drawn-photo.js'
import { valueOf } from '../support/outcomes.js'
import { sanded } from '../support/process-fixture.js'

/** Reads a drawn photograph of coupons of one exposure whose windows are as hazy as their level says. */
async function read(factor: Factor, levels: readonly string[], haze: (level: string) => number, seed = 1) {
  const common = { ladderId: 'CURE01', layerHeightUm: 50, pixelPitchUm: 34 }
  const layout = ladderLayout({ ...common, exposuresS: levels.map(() => 2.5), factor, levels: [...levels] })
  const slots = Object.fromEntries(levels.map((level, i) => [i + 1, { haze: haze(level) }]))
  const { file } = await drawPhoto({
    layout,
    slots,
    seed,
    coupon: { growthUm: 8 },
    resolution: { width: 3024, height: 2268 },
  })
  const reading = await measureLadder(file)
  if ('refusal' in reading) throw new Error(JSON.stringify(reading.refusal))
  return reading
}

describe('a ladder of post-cure times, from its photograph', () => {
  let reading: ReadLadder
  const minutes = ['0', '2.5', '5', '10', '20', '40']
  beforeAll(async () => {
    // 0.3 falls to 0.08 as exp(-t / 4 min): 95 % of it after 4 ln 20 = 12.0 min.
    reading = await read('post-cure-time', minutes, (level) => 0.08 + 0.22 * Math.exp(-Number(level) / 4))
  }, 60_000)

  it('says how long is enough, in minutes, and nothing of exposures', () => {
    const { process, design, suggestion, noSuggestion, growthFit } = reading
    expect(design).toMatchObject({ factor: 'post-cure-time', levels: minutes })
    expect([suggestion, noSuggestion, growthFit]).toEqual([undefined, undefined, undefined])
    expect(process).toMatchObject({
      unit: 'min',
      suggestion: { by: 'haze', rule: 'plateau', reached: true, costs: [] },
    })
    const [low, high] = process!.suggestion!.interval!
    expect(low).toBeLessThan(4 * Math.log(20))
    expect(high).toBeGreaterThan(4 * Math.log(20))
    // Haze is stated to 0.05, a fifth of the change: some factor of three either way, of the sixteen the levels span.
    expect(high / low).toBeLessThan(10)
    const growth = process!.responses.find(({ of }) => of === 'growthUm')!
    expect(growth.verdict).toBe('no-change')
  })

  it('prints the answer with its unit, and the level of each slot', () => {
    const text = readingReport('photo', reading)
    expect(text).toMatch(/Enough +\d+(\.\d)? min, 95 % interval [\d.]+ to [\d.]+ min/)
    expect(text).toMatch(/post-cure-time/)
    expect(text).toMatch(/^ +4 +10 +/m)
  })

  it('concludes the same from several photographs, and anew when a coupon is left out', () => {
    const combined = valueOf(combineReadings([reading, reading]))
    expect(combined.process!.suggestion!.rule).toBe('plateau')
    const without = leaveOut(reading, [{ slot: 6, reason: 'fell' }], {})
    expect(without.process!.responses[0]!.curve!.at(-1)!.amount).toBe(20)
  })

  it('lets the coupons be compared by their level', () => {
    const labelled = { reading, photo: 'one', labels: {} }
    const byLevel = valueOf(compareReadings([labelled], { by: 'level', of: 'haze' }))
    expect(byLevel.groups.map(({ group }) => group)).toEqual(minutes.map((level) => `${level} min`))
    const byCure = valueOf(compareReadings([labelled], { by: 'post-cure', of: 'haze' }))
    expect(byCure.groups[1]!.group).toBe('2.5 min')
  })
})

it('says of a ladder of grits which one is the last that shows a gain', async () => {
  const haze: Readonly<Record<string, number>> = { P400: 0.5, P800: 0.3, P1500: 0.12, J3000: 0.12 }
  const reading = await read(
    'grit',
    ['P400', 'P400', 'P800', 'P800', 'P1500', 'P1500', 'J3000'],
    (level) => haze[level]!,
  )
  const { process } = reading
  expect(process!.suggestion).toMatchObject({ level: 'P1500', by: 'haze', rule: 'last-step', reached: true })
  const { steps } = process!.responses.find(({ of }) => of === 'haze')!
  expect(steps!.means.map(({ level, coupons }) => [level, coupons])).toEqual(
    Object.entries({ P400: 2, P800: 2, P1500: 2, J3000: 1 }),
  )
  expect(steps!.differences.map(({ told }) => told)).toEqual([true, true, false])
  expect(readingReport('photo', reading)).toMatch(/Enough +P1500/)
}, 60_000)

it('does not call a grit enough when nothing finer was read', () => {
  expect(sanded.process!.suggestion).toMatchObject({ level: 'J2000', rule: 'last-step', reached: false })
  expect(readingReport('photo', sanded)).toMatch(/Best level read +J2000[^]+Not sure +whether more would help/)
})
