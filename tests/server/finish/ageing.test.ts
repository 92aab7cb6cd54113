import { describe, expect, it } from 'vitest'
import type { LadderEntry } from '../../../server/api/ladders.js'
import type { NowReply } from '../../../server/api/now.js'
import { answerAgeing } from '../../../server/finish/ageing.js'
import { dueAgain } from '../../../server/finish/remeasure.js'
import type { ReadLadder } from '../../../analysis/index.js'
import { answered } from '../../support/reading-fixture.js'
import { startService } from '../support/service.js'

const DAY = 86_400_000
const START = Date.parse('2026-01-10T12:00:00Z')
const after = (days: number) => new Date(START + days * DAY).toISOString()

/** The made-up ladder, its windows as much hazier as said. */
const hazier = (by: number): ReadLadder => ({
  ...answered,
  rungs: answered.rungs.map((rung) =>
    'growthUm' in rung && rung.haze
      ? { ...rung, haze: { value: rung.haze.value + by, standardUncertainty: 0.004 } }
      : rung,
  ),
})

describe('coupons photographed again', () => {
  it('give the trend of each response, every coupon with a level of its own', () => {
    const dated = [0, 30, 90, 180].map((days) => ({
      readingId: `day ${days}`,
      date: after(days),
      reading: hazier(0.001 * days),
    }))
    const { photos, responses } = answerAgeing(dated)
    expect(photos.map(({ days }) => days)).toEqual([0, 30, 90, 180])
    const haze = responses.find(({ of }) => of === 'haze')!
    expect(haze.verdict).toBe('rises')
    expect(haze.line!.slope.value).toBeCloseTo(0.001, 9)
    const read = answered.rungs.filter((rung) => 'growthUm' in rung && rung.haze).length
    expect(haze.points).toHaveLength(4 * read)
  })

  it('have no trend while all photographs are of one day', () => {
    const dated = [0, 0.3].map((days) => ({ readingId: String(days), date: after(days), reading: hazier(0) }))
    expect(answerAgeing(dated)).toMatchObject({ photos: [{ days: 0 }, { days: 0.3 }], responses: [] })
  })
})

describe('the day to photograph again', () => {
  it('comes after a day, a month and half a year, and passes with a photograph', () => {
    const at = (days: number) => START + days * DAY
    expect(dueAgain([after(0)], at(0.5))).toBeUndefined()
    expect(dueAgain([after(0)], at(2))).toEqual({ dueOn: '2026-01-11', afterDays: 1 })
    expect(dueAgain([after(0), after(2)], at(3))).toBeUndefined()
    expect(dueAgain([after(0), after(2)], at(40))).toEqual({ dueOn: '2026-02-09', afterDays: 30 })
    expect(dueAgain([after(0), after(28)], at(40))).toBeUndefined()
    expect(dueAgain([after(0), after(28)], at(400))).toMatchObject({ afterDays: 182 })
    expect(dueAgain([after(0), after(200)], at(400))).toBeUndefined()
  })
})

it('keeps the wish to photograph again, and says that nothing is due before the first photograph', async () => {
  const service = await startService()
  const plan = { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3], facts: { remeasure: true } }
  const { design, facts } = (await service.post('/api/ladders/plan', plan)).json<LadderEntry>()
  expect(facts.remeasure).toBe(true)
  expect((await service.get('/api/now')).json<NowReply>().remeasure).toEqual([])
  const none = await service.get(`/api/ladders/${design.ladderId}/ageing`)
  expect(none.json()).toEqual({ photos: [], responses: [] })
})

it('keeps reports of prints that turned brittle, and the limits of a data sheet', async () => {
  const service = await startService()
  const report = { part: 'Lens', finding: 'brittle', date: '2026-03-01', note: 'snapped' }
  const added = await service.post('/api/reports', report)
  expect(added.json<{ content: unknown }>().content).toEqual(report)
  const resin = { name: 'Clear', fromC: 22, toC: 30, postCureMaxC: 60 }
  expect((await service.post('/api/resins', resin)).json<{ content: unknown }>().content).toEqual(resin)
  expect((await service.post('/api/reports', { ...report, finding: 'odd' })).statusCode).toBe(400)
})
