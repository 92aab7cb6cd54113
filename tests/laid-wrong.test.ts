import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, it } from 'vitest'
import { measureLadder, type ReadLadder } from '../analysis/index.js'
import { SHARE_BEYOND } from './support/haze-truth.js'

// Simulated photograph, path traced (samples/README.md): an empty slot, a coupon turned, one printed mirrored, one not inked.
interface TrueRung {
  slot: number
  state: string
  growthUm?: number
  haze?: number
}
const folder = join(import.meta.dirname, '../samples/laid-wrong')
const { rungs: truth } = JSON.parse(readFileSync(join(folder, 'trouble.truth.json'), 'utf8')) as { rungs: TrueRung[] }
let reading: ReadLadder
beforeAll(async () => {
  const read = await measureLadder(readFileSync(join(folder, 'trouble.jpg')))
  if ('refusal' in read) throw new Error(read.refusal.advice)
  reading = read
}, 60_000)

const CODES: Record<string, string> = {
  empty: 'slot-empty',
  turned: 'coupon-turned',
  mirrored: 'coupon-mirrored',
  'not-inked': 'not-inked',
}

it('names what is wrong with each slot of a path-traced photograph', () => {
  expect(reading.rungs.map((rung) => ('refusal' in rung ? rung.refusal.code : 'good'))).toEqual(
    truth.map(({ state }) => CODES[state] ?? state),
  )
})

it('reads the coupons that lie right within four stated standard uncertainties, and asks for a ladder', () => {
  for (const rung of reading.rungs) {
    if (!('growthUm' in rung)) continue
    const { value, standardUncertainty } = rung.growthUm
    const expected = truth.find(({ slot }) => slot === rung.slot)!.growthUm!
    expect(Math.abs(value - expected) / standardUncertainty, `slot ${rung.slot}`).toBeLessThan(4)
  }
  expect(reading.suggestion).toBeUndefined()
  expect(reading.noSuggestion?.nextLadder.exposuresS.length).toBeGreaterThanOrEqual(5)
})

it('reads windows over the target of the first edition of cards, whose black patch had white around it', () => {
  expect(reading.design.cardEdition).toBe(1)
  const windows = reading.rungs.flatMap((rung) => {
    const { haze } = truth.find(({ slot }) => slot === rung.slot)!
    return 'growthUm' in rung && rung.haze && haze !== undefined ? [{ read: rung.haze, haze }] : []
  })
  expect(windows.length).toBe(2)
  for (const { read, haze } of windows)
    expect(Math.abs(read.value - SHARE_BEYOND * haze)).toBeLessThan(1.96 * read.standardUncertainty)
})
