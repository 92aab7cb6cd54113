import { expect, it } from 'vitest'
import { leaveOut } from '../../analysis/leave-out.js'
import type { LadderEntry } from '../../server/api/ladders.js'
import type { CombinedReply, PhotoAccepted, ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { answered } from '../support/reading-fixture.js'
import { sureOf } from './support/pools.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

const rungsOf = (reply: ReadingReply) => (reply.result as ReadLadder).rungs

it('concludes from the coupons that are left', () => {
  const { slot } = answered.rungs.findLast((rung) => 'growthUm' in rung)!
  const without = leaveOut(answered, [{ slot, reason: 'scratched' }], {})
  expect(without.rungs[slot - 1]).toMatchObject({ refusal: { code: 'left-out', detail: 'scratched' } })
  expect(without.growthFit!.residualsUm.map(({ slot }) => slot)).not.toContain(slot)
  expect(leaveOut(answered, [], {}).rungs).toEqual(answered.rungs)
  const none = leaveOut(
    answered,
    answered.rungs.map(({ slot }) => ({ slot, reason: 'all' })),
    {},
  )
  expect(none.suggestion).toBeUndefined()
  expect(none.noSuggestion).toBeDefined()
})

it('leaves a coupon out of every answer but not out of sight, and takes it in again', async () => {
  const { app, get, upload, ended } = await startService({ pool: sureOf(answered) })
  const { photoId, readingId } = (await upload(await plainPhoto())).json<PhotoAccepted>()
  const before = await ended({ photoId, readingId })
  const { slot } = rungsOf(before).findLast((rung) => 'growthUm' in rung)!
  const url = `/api/photos/${photoId}/left-out/${slot}`
  const send = (method: 'PUT' | 'DELETE', payload?: object) =>
    app.inject({ method, url, headers: { host: 'localhost' }, ...(payload && { payload }) })
  expect((await send('PUT', { reason: '' })).statusCode).toBe(400)
  expect((await send('PUT', { reason: 'thumb print' })).json()).toMatchObject({ leftOut: [{ slot }] })

  const after = (await get(`/api/readings/${readingId}`)).json<ReadingReply>()
  expect(after.leftOut).toMatchObject([{ slot, reason: 'thumb print' }])
  expect(rungsOf(after)).toEqual(rungsOf(before))
  const { suggestion } = after.result as ReadLadder
  expect(suggestion).not.toEqual((before.result as ReadLadder).suggestion)
  const { latest } = (await get(`/api/ladders/${answered.design.ladderId}`)).json<LadderEntry>()
  expect(latest!.outcome!.suggestion).toEqual(suggestion)
  const together = (await get(`/api/ladders/${answered.design.ladderId}/combined`)).json<CombinedReply>()
  expect(together.combined!.rungs.find((rung) => rung.slot === slot)).toHaveProperty('refusal')

  await send('DELETE')
  const again = (await get(`/api/readings/${readingId}`)).json<ReadingReply>()
  expect(again.leftOut).toEqual([])
  expect((again.result as ReadLadder).suggestion!.exposureS).toBe(answered.suggestion!.exposureS)
})

it('asks for a reading anew when another version stored a result of another shape', async () => {
  const dataFolder = scratchFolder()
  const first = await startService({ dataFolder, pool: sureOf(answered) })
  const accepted = (await first.upload(await plainPhoto())).json<PhotoAccepted>()
  await first.ended(accepted)
  const { card, ...rest } = answered
  const { residuals: _gone, ...earlier } = card
  await first.app.service.store.db
    .updateTable('readings')
    .set({ result_schema: null, result: JSON.stringify({ ...rest, card: earlier }) })
    .execute()
  await first.app.close()

  const later = await startService({ dataFolder, pool: sureOf(answered) })
  const address = `/api/readings/${accepted.readingId}`
  expect((await later.get(address)).json()).toMatchObject({ state: 'outdated', leftOut: [] })
  expect((await later.get(`/api/ladders/${answered.design.ladderId}/combined`)).statusCode).toBe(404)
  expect((await later.post(`${address}/again`)).statusCode).toBe(202)
  expect(await later.ended(accepted)).toMatchObject({ state: 'done' })
})

it('fits coupons as turned once the ladder is said to have turned ones', async () => {
  const { app, get, upload, ended } = await startService({ pool: sureOf(answered) })
  const accepted = (await upload(await plainPhoto())).json<PhotoAccepted>()
  const before = (await ended(accepted)).result as ReadLadder
  expect(before.growthFit!.turnedSlots).toEqual([])
  const url = `/api/ladders/${answered.design.ladderId}`
  const headers = { host: 'localhost' }
  await app.inject({ method: 'PATCH', url, headers, payload: { facts: { turnedSlots: [2, 4] } } })
  const after = (await get(`/api/readings/${accepted.readingId}`)).json<ReadingReply>().result as ReadLadder
  expect(after.growthFit!.turnedSlots).toEqual([2, 4])
  expect(after.rungs).toEqual(before.rungs)
})
