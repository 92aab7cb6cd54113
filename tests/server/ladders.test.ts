import { unzipSync } from 'fflate'
import sharp from 'sharp'
import { Value } from 'typebox/value'
import { expect, it } from 'vitest'
import { ladderLayout, LadderLayout } from '../../analysis/index.js'
import type { ErrorReply } from '../../server/api/common.js'
import type { LadderList, LadderRecord } from '../../server/api/ladders.js'
import type { PhotoAccepted } from '../../server/api/readings.js'
import { madeUpReading } from './support/made-up-reading.js'
import { plainPhoto, startService } from './support/service.js'

const printer = { layerHeightUm: 50, pixelPitchUm: 34 }
const design = 'ladderId=K7Q2XN&layerHeightUm=50&pixelPitchUm=34&exposuresS=1.6&exposuresS=2&exposuresS=2.5'

it('names a planned ladder and remembers it, newest first', async () => {
  const service = await startService()
  const range = { fromS: 1, toS: 4, rungs: 3, timeStepS: 0.1 }
  const planned = await service.post('/api/ladders/plan', { ...printer, range })
  expect(planned.statusCode).toBe(201)
  const first = planned.json<LadderRecord>()
  expect(first.design).toEqual({
    ...printer,
    exposuresS: [1, 2, 4],
    ladderId: expect.stringMatching(/^[0-9AC-HJ-NP-RTV-Y]{6}$/) as string,
  })
  const second = (await service.post('/api/ladders/plan', { ...printer, exposuresS: [3, 2] })).json<LadderRecord>()
  expect(second.design.exposuresS).toEqual([3, 2])
  expect(second.design.ladderId).not.toBe(first.design.ladderId)
  const toPrint = { next: 'print', simulated: false }
  expect((await service.get('/api/ladders')).json()).toEqual({
    total: 2,
    ladders: [
      { ...second, ...toPrint },
      { ...first, ...toPrint },
    ],
  })
})

it('remembers a ladder that a photograph shows', async () => {
  const service = await startService()
  await service.ended((await service.upload(await plainPhoto())).json<PhotoAccepted>())
  const { ladders } = (await service.get('/api/ladders')).json<LadderList>()
  expect(ladders.map((record) => record.design)).toEqual([madeUpReading.design])
})

it.each([
  ['both exposures and a range', { exposuresS: [1], range: { fromS: 1, toS: 2, rungs: 3, timeStepS: 0.1 } }],
  ['neither', {}],
  ['a range that goes down', { range: { fromS: 2, toS: 1, rungs: 3, timeStepS: 0.1 } }],
  ['an unknown field', { exposuresS: [1], exposure: 1 }],
  ['a number as text', { exposuresS: ['1'] }],
])('refuses a plan with %s', async (_what, plan) => {
  const service = await startService()
  const reply = await service.post('/api/ladders/plan', { ...printer, ...plan })
  expect(reply.statusCode).toBe(400)
  expect(reply.json<ErrorReply>()).toMatchObject({ code: 'invalid-request' })
})

it('hands out the geometry of a design', async () => {
  const service = await startService()
  const layout = (await service.get(`/api/layout?${design}`)).json<LadderLayout>()
  expect(layout).toEqual(ladderLayout({ ladderId: 'K7Q2XN', ...printer, exposuresS: [1.6, 2, 2.5] }))
  expect(Value.Check(LadderLayout, layout)).toBe(true)
})

const startsWith = (text: string) => (file: Buffer) => file.subarray(0, text.length).toString('latin1') === text
const kit = (file: Buffer) => Object.keys(unzipSync(file)).length > 6
it.each([
  ['card.pdf', 'application/pdf', startsWith('%PDF-')],
  ['card.pdf?paper=letter', 'application/pdf', startsWith('%PDF-')],
  ['coupon.stl?slot=3', 'model/stl', startsWith('K7Q2XN rung 3, 2.5 s')],
  ['coupon.3mf?slot=1', 'model/3mf', (file: Buffer) => '3D/3dmodel.model' in unzipSync(file)],
  ['kit.zip', 'application/zip', kit],
])('hands out %s', async (file, type, isRight) => {
  const service = await startService()
  const [name = '', query = ''] = file.split('?')
  const reply = await service.get(`/api/ladders/${name}?${design}&${query}`)
  expect(reply.statusCode, reply.body.slice(0, 300)).toBe(200)
  expect(reply.headers['content-type']).toBe(type)
  expect(reply.headers['content-disposition']).toMatch(/^attachment; filename="stepglass-K7Q2XN-[\w.-]+"$/)
  expect(isRight(reply.rawPayload)).toBe(true)
})

it('hands out card.png', async () => {
  const service = await startService()
  const reply = await service.get(`/api/ladders/card.png?${design}`)
  expect(reply.headers['content-type']).toBe('image/png')
  expect((await sharp(reply.rawPayload, { limitInputPixels: false }).metadata()).width).toBeGreaterThan(6000)
})

it.each([
  ['a slot the ladder does not have', `/api/ladders/coupon.stl?${design}&slot=4`, 400, 'no-such-slot'],
  ['a slot that is none', `/api/ladders/coupon.stl?${design}&slot=0`, 400, 'invalid-request'],
  ['another paper', `/api/ladders/card.pdf?${design}&paper=a3`, 400, 'invalid-request'],
  ['an unknown field', `/api/layout?${design}&colour=red`, 400, 'invalid-request'],
  ['no ladder', '/api/layout', 400, 'invalid-request'],
])('refuses %s', async (_what, url, status, code) => {
  const reply = await (await startService()).get(url)
  expect(reply.statusCode).toBe(status)
  expect(reply.json()).toMatchObject({ code, advice: expect.stringMatching(/\w/) as string })
})
