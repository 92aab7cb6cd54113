import { once } from 'node:events'
import { connect, type AddressInfo, type Socket } from 'node:net'
import { expect, it, onTestFinished } from 'vitest'
import { apiCampaign } from '../fuzz/api.js'
import { runCampaign } from '../fuzz/campaign.js'
import { readCampaign, sheetCampaign, showCampaign } from '../fuzz/files.js'
import { uploadCampaign } from '../fuzz/uploads.js'
import { startService } from './support/service.js'

// A short run of what `npx tsx tests/fuzz/fuzz.ts` does at length.
it('refuses what no route takes, with a reason and advice', async () => {
  expect((await runCampaign(await apiCampaign(), 250, 1)).findings).toEqual([])
})
it('takes no harm from damaged forms and archives, and leaves nothing of them behind', async () => {
  expect((await runCampaign(await uploadCampaign(), 25, 1)).findings).toEqual([])
})
it('reads damaged photographs or says why not', async () => {
  expect((await runCampaign(await readCampaign(), 120, 1)).findings).toEqual([])
})
it('shows damaged photographs or not', async () => {
  expect((await runCampaign(await showCampaign(), 60, 1)).findings).toEqual([])
})
it('takes in damaged sheets or says why not', async () => {
  expect((await runCampaign(await sheetCampaign(), 60, 1)).findings).toEqual([])
})

async function listening() {
  const service = await startService()
  const address = await service.app.listen({ port: 0, host: '127.0.0.1' })
  const { port } = service.app.server.address() as AddressInfo
  async function open(): Promise<Socket> {
    const socket = connect(port, '127.0.0.1').on('error', () => undefined)
    onTestFinished(() => void socket.destroy())
    await once(socket, 'connect')
    return socket
  }
  return { ...service, address, open }
}

it('answers others while two hundred clients send a line and no more, and waits for none of them for ever', async () => {
  const { app, address, open } = await listening()
  for (let i = 0; i < 200; i++) (await open()).write('POST /api/photos HTTP/1.1\r\nhost: localhost\r\nx-slow: ')
  for (let i = 0; i < 5; i++) expect((await fetch(`${address}/api/live`)).status).toBe(200)
  expect(app.server.headersTimeout).toBe(20_000)
  expect(app.server.requestTimeout).toBeLessThanOrEqual(300_000)
})

it.each([
  ['no HTTP at all', '\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03'],
  ['a line without end', `GET /${'a'.repeat(100_000)}`],
  ['headers without end', `GET / HTTP/1.1\r\n${'x-a: b\r\n'.repeat(20_000)}\r\n`],
  ['two lengths', 'POST /api/resins HTTP/1.1\r\nhost: localhost\r\ncontent-length: 5\r\ncontent-length: 50\r\n\r\n{}'],
  [
    'a length and chunks',
    'POST /api/resins HTTP/1.1\r\nhost: localhost\r\ncontent-length: 5\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n',
  ],
  ['a chunk that is none', 'POST /api/resins HTTP/1.1\r\nhost: localhost\r\ntransfer-encoding: chunked\r\n\r\nzz\r\n'],
  ['a header with a line in it', 'GET / HTTP/1.1\r\nhost: localhost\r\nx: a\nb\r\n\r\n'],
])('ends a connection that brings %s, and answers the next', async (_what, bytes) => {
  const { address, open } = await listening()
  const socket = await open()
  const closed = once(socket, 'close')
  let answer = ''
  socket.on('data', (text) => (answer += String(text)))
  socket.write(Buffer.from(bytes, 'latin1'))
  await closed
  expect(answer).toMatch(/^(HTTP\/1\.1 4\d\d |$)/)
  expect((await fetch(`${address}/api/live`)).status).toBe(200)
})
