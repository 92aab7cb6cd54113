import { once } from 'node:events'
import { connect } from 'node:net'
import type { AddressInfo } from 'node:net'
import { setTimeout as wait } from 'node:timers/promises'
import { expect, it } from 'vitest'
import type { ErrorReply } from '../../server/api/common.js'
import type { ReadingList } from '../../server/api/readings.js'
import { plainPhoto, startService } from './support/service.js'

type Service = Awaited<ReturnType<typeof startService>>

async function expectNothingStored(service: Service): Promise<void> {
  expect(await service.storedFiles()).toEqual([])
  expect((await service.get('/api/readings')).json<ReadingList>().total).toBe(0)
}

it.each([
  ['a field it does not know', { tolerance: '20' }, 'form/tolerance is not known'],
  ['a number that is none', { toleranceUm: 'wide' }, 'form/toleranceUm must be number'],
  ['an empty number', { toleranceUm: '' }, 'form/toleranceUm must be > 0'],
  ['a number out of range', { timeStepS: '-1' }, 'form/timeStepS must be > 0'],
])('refuses %s and stores nothing', async (_what, fields, message) => {
  const service = await startService()
  const reply = await service.upload(await plainPhoto(), fields)
  expect(reply.statusCode).toBe(400)
  expect(reply.json<ErrorReply>()).toMatchObject({ code: 'invalid-request', message })
  await expectNothingStored(service)
})

it('refuses a form without a photograph, an empty file, a second file and a file by another name', async () => {
  const service = await startService()
  const photo = new Blob([new Uint8Array(await plainPhoto())])
  const form = (...fields: readonly string[]) => {
    const data = new FormData()
    for (const field of fields) data.append(field, photo, 'a.png')
    return data
  }
  expect((await service.upload(undefined)).json()).toMatchObject({ code: 'no-photo' })
  expect((await service.upload(new Uint8Array())).json()).toMatchObject({ code: 'empty-file' })
  for (const data of [form('photo', 'photo'), form('picture')]) {
    const reply = await service.post('/api/photos', data)
    expect(reply.statusCode).toBe(400)
    expect(reply.json<ErrorReply>().advice).toContain('"photo"')
  }
  await expectNothingStored(service)
})

it('answers 415 to a body that is no form', async () => {
  const service = await startService()
  expect((await service.post('/api/photos', { photo: 'x' })).statusCode).toBe(415)
  const headers = { host: 'localhost', 'content-type': 'image/jpeg' }
  const bare = await service.app.inject({ method: 'POST', url: '/api/photos', headers, payload: 'x' })
  expect(bare.statusCode).toBe(415)
  expect(bare.json<ErrorReply>().advice).not.toBe('')
})

it('answers 413 with advice above 60 MB and stores nothing', async () => {
  const service = await startService()
  const reply = await service.upload(new Uint8Array(60_000_001))
  expect(reply.statusCode).toBe(413)
  expect(reply.json()).toMatchObject({ code: 'photo-too-large', advice: expect.stringContaining('JPEG') as string })
  await expectNothingStored(service)
  expect((await service.get('/api/health')).statusCode).toBe(200)
})

it.each([
  ['in the middle of the photograph', 0.5],
  ['just before the end of the form', 0.999],
])('leaves nothing behind when an upload is cut off %s', async (_where, share) => {
  const service = await startService()
  await service.app.listen({ port: 0, host: '127.0.0.1' })
  const { port } = service.app.server.address() as AddressInfo
  const file = Buffer.alloc(3_000_000, 7)
  const head = '--x\r\ncontent-disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n'
  const body = Buffer.concat([Buffer.from(head), file, Buffer.from('\r\n--x--\r\n')])
  const request =
    'POST /api/photos HTTP/1.1\r\nhost: localhost\r\ncontent-type: multipart/form-data; boundary=x\r\n' +
    `content-length: ${body.length}\r\n\r\n`

  const socket = connect(port, '127.0.0.1')
  await once(socket, 'connect')
  socket.write(request)
  socket.write(body.subarray(0, Math.floor(body.length * share)))
  // It is on its way to the disk before the line breaks.
  await expect.poll(async () => (await service.storedFiles()).length, { timeout: 10_000 }).toBe(1)
  await wait(100)
  socket.destroy()
  await expect.poll(() => service.storedFiles(), { timeout: 10_000 }).toEqual([])
  await expectNothingStored(service)
})
