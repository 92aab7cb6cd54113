import { createHash } from 'node:crypto'
import { expect, it } from 'vitest'
import type { PhotoAccepted, ReadingList, ReadingProgress, ReadingReply } from '../../server/api/readings.js'
import { madeUpReading } from './support/made-up-reading.js'
import { poolOf } from './support/pools.js'
import { plainPhoto, startService } from './support/service.js'

it('keeps an uploaded photograph byte for byte under its hash and reads it', async () => {
  const service = await startService()
  const photo = await plainPhoto()
  const reply = await service.upload(photo, { toleranceUm: '15', timeStepS: '0.05' }, 'IMG 1.PNG')
  expect(reply.statusCode).toBe(202)

  const accepted = reply.json<PhotoAccepted>()
  expect(accepted.photoId).toBe(createHash('sha256').update(photo).digest('hex'))
  expect((await service.keptPhoto(accepted.photoId))?.equals(photo)).toBe(true)
  expect(await service.storedFiles()).toHaveLength(1)

  const reading = await service.ended(accepted)
  expect(reading).toMatchObject({
    ...accepted,
    photoName: 'IMG 1.PNG',
    simulated: false,
    state: 'done',
    options: { toleranceUm: 15, timeStepS: 0.05 },
  })
  expect(Date.parse(reading.finishedAt ?? '')).toBeGreaterThanOrEqual(Date.parse(reading.createdAt))
})

it('hands out a result with nothing lost or added', async () => {
  const service = await startService()
  const reading = await service.ended((await service.upload(await plainPhoto())).json<PhotoAccepted>())
  expect(reading.result).toEqual(madeUpReading)
})

it('tells each stage of a reading, then its end', async () => {
  let goOn = () => {}
  const followed = new Promise<void>((resolve) => (goOn = resolve))
  const service = await startService({
    pool: poolOf(async (_path, onStage) => {
      await followed
      onStage({ stage: 'find-card', share: 0.2 })
      onStage({ stage: 'fit', share: 0.9 })
      return madeUpReading
    }),
  })
  const { readingId } = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  await expect.poll(async () => (await service.get(`/api/readings/${readingId}`)).body).toContain('"reading"')
  const following = service.get(`/api/readings/${readingId}/progress`)
  setTimeout(goOn, 300)
  const stream = await following
  expect(stream.headers['content-type']).toContain('text/event-stream')
  const events = [...stream.body.matchAll(/^data: (.*)$/gm)].map(
    (match) => JSON.parse(match[1] ?? '') as ReadingProgress,
  )
  expect(events).toEqual([
    { state: 'reading', share: 0 },
    { state: 'reading', stage: 'find-card', share: 0.2 },
    { state: 'reading', stage: 'fit', share: 0.9 },
    { state: 'done', share: 1 },
  ])
  expect((await service.get(`/api/readings/${readingId}/progress`)).body).toBe('data: {"state":"done","share":1}\n\n')
})

it('stores the same photograph once and gives it one reading for each set of options', async () => {
  const service = await startService()
  const photo = await plainPhoto()
  const first = (await service.upload(photo)).json<PhotoAccepted>()
  const again = (await service.upload(photo, {}, 'copy.png')).json<PhotoAccepted>()
  // 20 is the default, so saying it changes nothing.
  const same = (await service.upload(photo, { toleranceUm: '20' })).json<PhotoAccepted>()
  const other = (await service.upload(photo, { toleranceUm: '30' })).json<PhotoAccepted>()
  expect(again).toEqual(first)
  expect(same).toEqual(first)
  expect(other.photoId).toBe(first.photoId)
  expect(other.readingId).not.toBe(first.readingId)
  expect(await service.storedFiles()).toHaveLength(1)
  expect((await service.get('/api/readings')).json<ReadingList>().total).toBe(2)
})

it('takes caliper readings with a form as JSON, in any order, and refuses what is no list', async () => {
  const service = await startService()
  const photo = await plainPhoto()
  const tabs = '[{"slot":2,"widthMm":4.05},{"slot":1,"widthMm":4.02}]'
  const accepted = (await service.upload(photo, { caliperMm: tabs })).json<PhotoAccepted>()
  const reading = await service.ended(accepted)
  expect(reading.options.caliperMm).toEqual([
    { slot: 1, widthMm: 4.02 },
    { slot: 2, widthMm: 4.05 },
  ])
  const other = '[{"slot":1,"widthMm":4.02},{"widthMm":4.05,"slot":2}]'
  expect((await service.upload(photo, { caliperMm: other })).json<PhotoAccepted>()).toEqual(accepted)
  expect((await service.upload(photo, { caliperMm: '4.02' })).statusCode).toBe(400)
  expect((await service.upload(photo, { caliperMm: '[{"slot":1,"widthMm":40.2}]' })).statusCode).toBe(400)
})

it('lists readings in short, newest first, a page at a time', async () => {
  const service = await startService()
  const ids: string[] = []
  for (const colour of ['#111111', '#222222', '#333333']) {
    const accepted = (await service.upload(await plainPhoto(colour))).json<PhotoAccepted>()
    await service.ended(accepted)
    ids.unshift(accepted.readingId)
  }
  const all = (await service.get('/api/readings')).json<ReadingList>()
  expect(all.readings.map(({ readingId }) => readingId)).toEqual(ids)
  expect(all.readings[0]?.outcome).toEqual({
    design: madeUpReading.design,
    rungsRead: 2,
    rungsRefused: 1,
    suggestion: madeUpReading.suggestion,
  })
  expect(all.readings[0]).not.toHaveProperty('result')
  const page = (await service.get('/api/readings?limit=1&offset=1')).json<ReadingList>()
  expect(page).toMatchObject({ total: 3, readings: [{ readingId: ids[1] }] })
})

it('reads a photograph again: anew with the same options, as another reading with others', async () => {
  let times = 0
  const service = await startService({
    pool: poolOf(() => {
      times++
      return Promise.resolve(madeUpReading)
    }),
  })
  const first = (await service.upload(await plainPhoto(), { toleranceUm: '12' })).json<PhotoAccepted>()
  await service.ended(first)
  const address = `/api/readings/${first.readingId}/again`

  const same = await service.post(address)
  expect(same.statusCode).toBe(202)
  expect(same.json()).toEqual(first)
  expect((await service.ended(first)).state).toBe('done')
  expect(times).toBe(2)

  const other = (await service.post(address, { toleranceUm: 30, smallestLineUm: 200 })).json<PhotoAccepted>()
  expect(other.readingId).not.toBe(first.readingId)
  const reading = await service.ended(other)
  expect(reading.options).toEqual({ toleranceUm: 30, timeStepS: 0.1, smallestLineUm: 200 })
  expect(times).toBe(3)
})

it('reads a photograph again with other coupons turned', async () => {
  const asked: unknown[] = []
  const service = await startService({
    pool: {
      ...poolOf(() => Promise.resolve(madeUpReading)),
      read: (_path, { turnedSlots }) => {
        asked.push(turnedSlots)
        return Promise.resolve(madeUpReading)
      },
    },
  })
  const first = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  await service.ended(first)
  const again = (turnedSlots: unknown) => service.post(`/api/readings/${first.readingId}/again`, { turnedSlots })
  const other = (await again([2, 4])).json<PhotoAccepted>()
  expect(other.readingId).not.toBe(first.readingId)
  expect((await service.ended(other)).options.turnedSlots).toEqual([2, 4])
  expect(asked).toEqual([undefined, [2, 4]])
  for (const wrong of [[0], [2.5], '2,4']) expect((await again(wrong)).statusCode).toBe(400)
  expect((await service.get('/api/readings')).json<ReadingList>().total).toBe(2)
})

it('keeps a refused photograph as a finished reading with its reason', async () => {
  const refusal = { code: 'no-card', advice: 'Photograph the whole card.', detail: 'no code found' }
  const service = await startService({
    pool: poolOf(() => Promise.resolve({ schema: 'stepglass-reading-1', refusal })),
  })
  const accepted = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  expect(await service.ended(accepted)).toMatchObject({ state: 'done', result: { refusal } })
  expect((await service.get('/api/readings')).json<ReadingList>().readings[0]?.outcome?.refusal).toEqual(refusal)
  const overlay = await service.get(`/api/readings/${accepted.readingId}/overlay.jpg`)
  expect(overlay.statusCode).toBe(422)
  expect(overlay.json()).toEqual({ code: 'no-card', message: 'no code found', advice: 'Photograph the whole card.' })
})

it('fails a reading whose reader breaks off, tells no detail, and reads it when it is uploaded again', async () => {
  let broken = true
  const service = await startService({
    pool: poolOf(() => (broken ? Promise.reject(new Error('secret /path')) : Promise.resolve(madeUpReading))),
  })
  const photo = await plainPhoto()
  const accepted = (await service.upload(photo)).json<PhotoAccepted>()
  const failed = await service.ended(accepted)
  expect(failed).toMatchObject({ state: 'failed', failure: { code: 'internal' } })
  expect(JSON.stringify(failed)).not.toContain('secret')

  broken = false
  expect((await service.upload(photo)).json()).toEqual(accepted)
  const reading: ReadingReply = await service.ended(accepted)
  expect(reading.state).toBe('done')
  expect(reading).not.toHaveProperty('failure')
})

it('answers 404 with advice for what it does not have', async () => {
  const service = await startService()
  const missing = ['/api/readings/none', '/api/readings/none/progress', '/api/readings/none/overlay.jpg']
  for (const url of [...missing, `/api/photos/${'0'.repeat(64)}/image`, '/api/nothing', '/nothing']) {
    const reply = await service.get(url)
    expect(reply.statusCode, url).toBe(404)
    expect(reply.json(), url).toEqual({
      code: expect.stringMatching(/^(no-such-(reading|photo)|not-found)$/) as string,
      message: expect.stringMatching(/./) as string,
      advice: expect.stringMatching(/./) as string,
    })
  }
})
