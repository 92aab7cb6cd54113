import { expect, it } from 'vitest'
import type { LadderEntry, LadderList, LadderRecord } from '../../server/api/ladders.js'
import type { PhotoAccepted } from '../../server/api/readings.js'
import type { Bottle, RecordList, Setting, StoredRecord } from '../../server/api/records.js'
import { madeUpReading } from './support/made-up-reading.js'
import { plainPhoto, startService } from './support/service.js'

const bottle: Bottle = { name: 'Shelf 2, left', batch: 'B-0417', openedOn: '2026-03-02', remainingMl: 640 }

async function start() {
  const service = await startService()
  const send = (method: 'PATCH' | 'PUT' | 'DELETE', url: string, payload?: object) =>
    service.app.inject({ method, url, headers: { host: 'localhost' }, ...(payload && { payload }) })
  const add = async (path: string, content: object) =>
    (await service.post(`/api/${path}`, content)).json<StoredRecord<Bottle>>()
  return { ...service, send, add }
}

it('keeps a bottle, finds it by words in any field, and refuses what the schema does not know', async () => {
  const { get, post, add } = await start()
  const { recordId } = await add('bottles', bottle)
  await add('bottles', { name: 'Other' })
  expect((await get(`/api/bottles/${recordId}`)).json()).toMatchObject({ content: bottle, changes: 0 })
  const found = (await get('/api/bottles?search=b-0417%20LEFT')).json<RecordList<Bottle>>()
  expect(found).toMatchObject({ total: 1, records: [{ recordId }] })
  // Marks that mean something to SQL are searched for as they are.
  expect((await get('/api/bottles?search=%25')).json<RecordList<Bottle>>().total).toBe(0)

  const refused = await post('/api/bottles', { name: 'x', litres: 1 })
  expect(refused.statusCode).toBe(400)
  expect(refused.json()).toMatchObject({ message: 'body/litres is not known' })
  expect((await post('/api/bottles', { name: ' ' })).statusCode).toBe(400)
})

it('puts a record away without losing it, and takes back each change', async () => {
  const { get, post, send, add } = await start()
  const { recordId } = await add('bottles', bottle)
  await send('PATCH', `/api/bottles/${recordId}`, { content: { ...bottle, remainingMl: 500 } })
  await send('PATCH', `/api/bottles/${recordId}`, { archived: true })
  expect((await get('/api/bottles')).json()).toMatchObject({ total: 0 })
  expect((await get('/api/bottles?archived=true')).json()).toMatchObject({ total: 1 })

  const undone = (await post(`/api/bottles/${recordId}/undo`)).json<StoredRecord<Bottle>>()
  expect(undone).toMatchObject({ content: { remainingMl: 500 }, changes: 3 })
  expect(undone.archivedAt).toBeUndefined()
  // Undo is a change like another, so that a second one brings the first change's effect back.
  expect((await post(`/api/bottles/${recordId}/undo`)).json<StoredRecord<Bottle>>().archivedAt).toBeDefined()
  expect((await get('/api/printers/none')).statusCode).toBe(404)
  expect((await get(`/api/printers/${recordId}`)).statusCode).toBe(404)
})

it('links a ladder to bottle and printer, and says what to do with it next', async () => {
  const { get, post, send, add, upload, ended } = await start()
  const { recordId: bottleId } = await add('bottles', bottle)
  const { recordId: printerId } = await add('printers', { name: 'North', pixelPitchUm: 34, timeStepS: 0.1 })
  const plan = { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3], facts: { bottleId, printerId } }
  const { design } = (await post('/api/ladders/plan', plan)).json<LadderRecord>()
  const address = `/api/ladders/${design.ladderId}`
  const next = async () => (await get(address)).json<LadderEntry>().next
  expect((await get(address)).json()).toMatchObject({ bottle: bottle.name, printer: 'North', origin: 'planned' })
  expect(await next()).toBe('print')
  await send('PATCH', address, { facts: { ...plan.facts, steps: ['printed'] } })
  expect(await next()).toBe('photograph')
  expect((await get('/api/ladders?search=north')).json<LadderList>().total).toBe(1)
  expect((await get('/api/ladders?search=south')).json<LadderList>().total).toBe(0)
  await send('PATCH', address, { archived: true })
  expect((await get('/api/ladders')).json<LadderList>().total).toBe(0)
  await send('PATCH', address, { archived: false })

  const wrong = await post('/api/ladders/plan', { ...plan, facts: { bottleId: 'nowhere' } })
  expect(wrong.json()).toMatchObject({ code: 'no-such-bottle' })

  // A card printed elsewhere: its ladder is made from its code.
  await ended((await upload(await plainPhoto())).json<PhotoAccepted>())
  const { ladderId } = madeUpReading.design
  const foreign = (await get(`/api/ladders/${ladderId}`)).json<LadderEntry>()
  expect(foreign).toMatchObject({ origin: 'card', design: madeUpReading.design, next: 'accept' })
  const setting: Setting = { exposureS: 2.4, layerHeightUm: 50, origin: 'own', ladderId, bottleId }
  expect((await post('/api/settings', setting)).statusCode).toBe(201)
  expect((await get(`/api/ladders/${ladderId}`)).json<LadderEntry>().next).toBe('done')
  const open = (await get('/api/ladders?open=true')).json<LadderList>()
  expect(open.ladders.map((ladder) => ladder.design.ladderId)).toEqual([design.ladderId])
})

it('counts an upload of the same name once, and tells what became of it', async () => {
  const { get, upload } = await start()
  const uploadId = 'aaaaaaaa-bbbb-4ccc-8ddd-eeeeeeeeeeee'
  expect((await get(`/api/uploads/${uploadId}`)).statusCode).toBe(404)
  const photo = await plainPhoto()
  const first = (await upload(photo, { uploadId })).json<PhotoAccepted>()
  expect((await get(`/api/uploads/${uploadId}`)).json()).toEqual(first)
  expect((await upload(photo, { uploadId })).json()).toEqual(first)
  expect((await get('/api/readings')).json()).toMatchObject({ total: 1 })
  expect((await upload(photo, { uploadId: 'no good' })).statusCode).toBe(400)
})
