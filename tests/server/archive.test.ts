import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate'
import { expect, it } from 'vitest'
import type { ArchiveContents, ImportReply } from '../../server/api/archive.js'
import type { PhotoAccepted, ReadingReply } from '../../server/api/readings.js'
import type { TakenIn } from '../../server/api/sheets.js'
import { fullSheet } from './sheets/sheets.js'
import { madeUpReading } from './support/made-up-reading.js'
import { plainPhoto, startService } from './support/service.js'

type Service = Awaited<ReturnType<typeof startService>>

/** A service with a bottle that was changed, a ladder, a photograph and a coupon left out. */
async function filled() {
  const service = await startService()
  const headers = { host: 'localhost' }
  const bottle = (await service.post('/api/bottles', { name: '=Cold shelf' })).json<{ recordId: string }>()
  await service.app.inject({
    method: 'PATCH',
    url: `/api/bottles/${bottle.recordId}`,
    headers,
    payload: { content: { name: '=Cold shelf', batch: 'B-7' } },
  })
  const accepted = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  await service.ended(accepted)
  await service.app.inject({
    method: 'PATCH',
    url: `/api/ladders/${madeUpReading.design.ladderId}`,
    headers,
    payload: { facts: { bottleId: bottle.recordId } },
  })
  const leaveOut = `/api/photos/${accepted.photoId}/left-out/1`
  await service.app.inject({ method: 'PUT', url: leaveOut, headers, payload: { reason: 'scratched' } })
  return { service, accepted, bottleId: bottle.recordId }
}

const exported = async ({ get }: Service) => new Uint8Array((await get('/api/archive.zip')).rawPayload)
const importInto = ({ app }: Service, zip: Uint8Array) =>
  app.inject({
    method: 'POST',
    url: '/api/archive',
    headers: { host: 'localhost', 'content-type': 'application/zip' },
    payload: Buffer.from(zip),
  })

it('takes everything to another machine, and importing twice is once', async () => {
  const { service, accepted, bottleId } = await filled()
  const zip = await exported(service)
  expect(Object.keys(unzipSync(zip)).sort()).toEqual([
    `photos/${accepted.photoId}.png`,
    `readings/${accepted.readingId}.json`,
    'stepglass.json',
  ])

  const other = await startService()
  const first = await importInto(other, zip)
  const counts = { records: 1, ladders: 1, photos: 1, readings: 1 }
  const none = { records: 0, ladders: 0, photos: 0, readings: 0 }
  expect(first.json<ImportReply>()).toEqual({ added: counts, alreadyThere: none })
  const addresses = [
    ...['/api/bottles', `/api/bottles/${bottleId}`, '/api/ladders', '/api/readings'],
    ...[`/api/readings/${accepted.readingId}`, '/api/readings.csv'],
  ]
  for (const address of addresses) expect((await other.get(address)).body).toBe((await service.get(address)).body)
  const image = await other.get(`/api/photos/${accepted.photoId}/image?width=100`)
  expect(image.statusCode).toBe(200)

  expect((await importInto(other, zip)).json<ImportReply>()).toEqual({ added: none, alreadyThere: counts })
  const again = unzipSync(await exported(other))
  const contents = JSON.parse(strFromU8(again['stepglass.json']!)) as ArchiveContents
  expect(contents.leftOut).toHaveLength(1)
  expect(contents.records[0]!.earlier).toHaveLength(1)
})

it('says what to send instead of something that is no zip', async () => {
  const { app } = await startService()
  for (const payload of [{ a: 1 }, '"text"', undefined]) {
    const reply = await app.inject({
      method: 'POST',
      url: '/api/archive',
      headers: { host: 'localhost', ...(payload !== undefined && { 'content-type': 'application/json' }) },
      ...(payload !== undefined && { payload }),
    })
    expect(reply.statusCode).toBe(422)
    expect(reply.json()).toMatchObject({ code: 'unusable-archive', advice: expect.stringMatching(/zip/) as string })
  }
})

it('takes sheets and the names of keys along, and not the links to them', async () => {
  const service = await startService()
  const form = new FormData()
  form.set('sheet', new Blob([JSON.stringify(fullSheet)]), 'sheet.json')
  const { recordId } = (await service.post('/api/settings/take-in', form)).json<TakenIn>().setting
  const { publicKey } = (await service.get('/api/signing-key')).json<{ publicKey: string }>()
  await service.post('/api/known-keys', { publicKey, name: 'Canal works' })
  const link = (await service.post(`/api/sheets/${fullSheet.sheetId}/links`, { days: 3 })).json<{ path: string }>()

  const other = await startService()
  await other.post('/api/known-keys', { publicKey, name: 'Named here' })
  for (let round = 0; round < 2; round++)
    expect((await importInto(other, await exported(service))).statusCode).toBe(200)
  const sheets = `/api/settings/${recordId}/sheets`
  expect((await other.get(sheets)).body).toBe((await service.get(sheets)).body)
  expect((await other.get('/api/known-keys')).json()).toEqual({ keys: [{ publicKey, name: 'Named here' }] })
  expect((await other.get(link.path)).statusCode).toBe(404)
})

it('goes on where an import broke off', async () => {
  const { service } = await filled()
  const zip = await exported(service)
  const other = await startService()
  const half = await importInto(other, zip.subarray(0, Math.floor(zip.length * 0.6)))
  expect(half.json()).toMatchObject({ code: 'unusable-archive' })
  expect((await importInto(other, zip)).statusCode).toBe(200)
  expect((await other.get('/api/readings')).json()).toMatchObject({ total: 1 })
})

it('says what is wrong with a file that it cannot use', async () => {
  const { service } = await filled()
  const files = unzipSync(await exported(service))
  const contents = JSON.parse(strFromU8(files['stepglass.json']!)) as ArchiveContents
  const other = await startService()
  const refusalOf = async (zip: Uint8Array) => (await importInto(other, zip)).json<{ message: string }>().message
  const withContents = (changed: object) =>
    zipSync({ ...files, 'stepglass.json': strToU8(JSON.stringify({ ...contents, ...changed })) })

  expect(await refusalOf(strToU8('no zip at all'))).toMatch(/not a zip/)
  expect(await refusalOf(zipSync({ 'other.txt': strToU8('x') }))).toMatch(/begins with other.txt/)
  expect(await refusalOf(withContents({ ladders: [{ design: {} }] }))).toMatch(/ladders\/0/)
  const [photo = ''] = Object.keys(files).filter((name) => name.startsWith('photos/'))
  expect(await refusalOf(zipSync({ ...files, [photo]: strToU8('forged') }))).toMatch(/not the photograph/)
  const { [photo]: _gone, ...withoutPhoto } = files
  expect(await refusalOf(zipSync(withoutPhoto))).toMatch(/missing/)
  expect(await refusalOf(zipSync({ ...files, 'photos/../../x': strToU8('x') }))).toMatch(/not named/)
  expect((await other.get('/api/bottles')).json()).toMatchObject({ total: 0 })
})

it('never trusts a result that came in a file', async () => {
  const { service, accepted } = await filled()
  const files = unzipSync(await exported(service))
  const other = await startService()
  const forged = { ...files, [`readings/${accepted.readingId}.json`]: strToU8('{"schema":"stepglass-reading-1"}') }
  expect((await importInto(other, zipSync(forged))).statusCode).toBe(200)
  const reading = (await other.get(`/api/readings/${accepted.readingId}`)).json<ReadingReply>()
  expect(reading.state).toBe('outdated')
})

it('lists every coupon in a table that a spreadsheet takes as text', async () => {
  const { service } = await filled()
  const [head = '', first = '', ...rest] = (await service.get('/api/readings.csv')).body.trim().split('\r\n')
  expect(head).toContain('growth_um,growth_u_um')
  expect(rest).toHaveLength(madeUpReading.rungs.length - 1)
  expect(first).toContain("'=Cold shelf")
  expect(first).toContain('scratched')
})
