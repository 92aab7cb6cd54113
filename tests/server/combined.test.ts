import { expect, it } from 'vitest'
import type { CombinedReply, PhotoAccepted } from '../../server/api/readings.js'
import { answered } from '../support/reading-fixture.js'
import { sureOf } from './support/pools.js'
import { plainPhoto, startService } from './support/service.js'

const { ladderId } = answered.design

it('gives one answer from the photographs of a ladder, the newest reading of each, and leaves out what it is told to', async () => {
  const service = await startService({ pool: sureOf(answered) })
  const read = async (colour: string, fields: Record<string, string> = {}) => {
    const accepted = (
      await service.upload(await plainPhoto(colour), fields, `${colour.slice(1)}.png`)
    ).json<PhotoAccepted>()
    await service.ended(accepted)
    return accepted
  }
  const first = await read('#a0a0a0')
  const again = await read('#a0a0a0', { toleranceUm: '30' })
  const second = await read('#b0b0b0')
  const ask = async (query = '') =>
    (await service.get(`/api/ladders/${ladderId}/combined${query}`)).json<CombinedReply>()

  const both = await ask()
  expect(both.readings.map(({ readingId }) => readingId)).toEqual([again.readingId, second.readingId])
  expect(both.combined?.photos.length).toBe(2)
  expect(both.combined?.rungs.filter((rung) => 'growthUm' in rung && rung.photos === 2).length).toBe(5)
  expect(both.combined?.suggestion?.exposureS).toBeGreaterThan(0)

  const one = await ask(`?without=${first.photoId}`)
  expect(one.readings.map(({ used }) => used)).toEqual([false, true])
  expect(one.combined?.photos.length).toBe(1)
  const none = await ask(`?without=${first.photoId}&without=${second.photoId}`)
  expect(none.combined).toBeUndefined()
  expect(none.refusal?.code).toBe('no-readings')
})

it('knows no answer of a ladder that was never photographed', async () => {
  const service = await startService()
  expect((await service.get('/api/ladders/NONE01/combined')).statusCode).toBe(404)
})
