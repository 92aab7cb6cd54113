import sharp from 'sharp'
import { describe, expect, it, vi } from 'vitest'
import type { Setting, StoredRecord } from '../../../server/api/records.js'
import {
  SettingSheet,
  type Adapted,
  type LinkEntry,
  type NewLink,
  type SettingTable,
  type SheetEntry,
  type SideBySide,
  type TakenIn,
} from '../../../server/api/sheets.js'
import type { PhotoAccepted } from '../../../server/api/readings.js'
import { labelPart, labelText } from '../../../server/sheets/label-text.js'
import { plainPhoto, startService } from '../support/service.js'
import { codePicture, fullSheet } from './sheets.js'

/** Names and notes of the workshop that are nobody else's business. */
const PRIVATE = ['damp cupboard', 'owes us money', 'holiday-at-home.jpg', 'GPSLatitude', 'K7Q2XN']

async function start(options: Parameters<typeof startService>[0] = {}) {
  const service = await startService(options)
  const remove = (url: string) => service.app.inject({ method: 'DELETE', url, headers: { host: 'localhost' } })
  const add = async (path: string, content: object) =>
    (await service.post(`/api/${path}`, content)).json<StoredRecord<Setting>>().recordId
  const takeIn = (bytes: Uint8Array | string, name = 'sheet.json') => {
    const form = new FormData()
    form.set('sheet', new Blob([typeof bytes === 'string' ? bytes : new Uint8Array(bytes)]), name)
    return service.post('/api/settings/take-in', form)
  }

  /** A setting of a photograph that was read here, with all records it links to. */
  async function ownSetting(): Promise<string> {
    const photo = await sharp(await plainPhoto())
      .withExif({ IFD3: { GPSLatitude: '51/1 30/1 3230/100', GPSLatitudeRef: 'N' } })
      .jpeg()
      .toBuffer()
    const { readingId } = (await service.upload(photo, {}, 'holiday-at-home.jpg')).json<PhotoAccepted>()
    await service.ended({ readingId, photoId: '' })
    const resinId = await add('resins', { name: 'Lab mix 4', note: 'owes us money' })
    const bottleId = await add('bottles', {
      name: 'Left',
      batch: 'B-1',
      storedAt: 'damp cupboard',
      remainingMl: 100,
      resinId,
    })
    const printerId = await add('printers', {
      name: 'North',
      pixelPitchUm: 34,
      timeStepS: 0.1,
      irradiance: [
        { date: '2026-05-01', mwPerCm2: 3 },
        { date: '2026-01-01', mwPerCm2: 4 },
      ],
      note: 'owes us money',
    })
    const setting = { exposureS: 2.3, intervalS: [2.1, 2.6], layerHeightUm: 50, origin: 'own', ladderId: 'K7Q2XN' }
    return add('settings', { ...setting, readingId, bottleId, printerId, note: 'owes us money' })
  }
  const makeSheet = async (settingId: string, body: object = {}) =>
    (await service.post(`/api/settings/${settingId}/sheets`, body)).json<SheetEntry>()
  return { ...service, remove, add, takeIn, ownSetting, makeSheet }
}

it('makes a sheet of a setting with what was measured and what it is for', async () => {
  const { ownSetting, makeSheet, get } = await start()
  const settingId = await ownSetting()
  const { sheetId, sheet } = await makeSheet(settingId, { madeBy: 'Canal works', note: 'New film.' })
  expect(sheet).toMatchObject({
    exposureS: 2.3,
    intervalS: [2.1, 2.6],
    layerHeightUm: 50,
    resin: { name: 'Lab mix 4' },
    bottle: { name: 'Left', batch: 'B-1' },
    printer: 'North',
    // The latest reading, whatever the order they were entered in.
    irradianceMwPerCm2: 3,
    madeBy: 'Canal works',
    note: 'New film.',
  })
  expect(sheet.growth?.rungs.length).toBeGreaterThan(1)
  expect(sheet.photoJpeg).toMatch(/^\/9j\//)
  expect((await get(`/api/settings/${settingId}/sheets`)).json()).toMatchObject({ sheets: [{ sheetId }] })
  const types = {
    json: 'application/json',
    html: 'text/html',
    pdf: 'application/pdf',
    png: 'image/png',
    txt: 'text/plain',
  }
  for (const [form, type] of Object.entries(types)) {
    const reply = await get(`/api/sheets/${sheetId}/as/${form}`)
    expect([reply.statusCode, reply.headers['content-type']]).toEqual([200, expect.stringContaining(type)])
  }
  expect((await get(`/api/sheets/${sheetId}/label?size=100x50`)).headers['content-type']).toBe('application/pdf')
  expect((await get('/api/sheets/AAAAAAAA/as/json')).statusCode).toBe(404)
})

describe('what leaves', () => {
  it('is these fields and no others', () => {
    // Whoever adds a field here has asked whether everyone may read it.
    expect(fieldsOf(SettingSheet)).toEqual(
      [
        'schema sheetId madeOn madeBy simulated exposureS intervalS layerHeightUm pixelPitchUm timeStepS',
        'irradianceMwPerCm2 temperatureC printer lineUm spaceUm sizesFrom howSure chosenBecause limitedBy photoJpeg method note',
        'usableRange.toleranceUm usableRange.rangeS usableRange.reachesEnd.low usableRange.reachesEnd.high',
        'resin.name resin.maker resin.colour bottle.name bottle.batch bottle.openedOn',
        'growth.rungs[].exposureS growth.rungs[].growthUm.value growth.rungs[].growthUm.standardUncertainty',
        'growth.curve[].exposureS growth.curve[].growthUm growth.curve[].lowUm growth.curve[].highUm',
        'haze.value haze.standardUncertainty yellownessPerMm.value yellownessPerMm.standardUncertainty',
        'otherHeights[].layerHeightUm otherHeights[].rangeS signature.algorithm signature.publicKey signature.value',
      ]
        .join(' ')
        .split(' ')
        .sort(),
    )
  })

  it('holds nothing private in any form, nor in its picture', async () => {
    const { ownSetting, makeSheet, get } = await start()
    const { sheetId, sheet } = await makeSheet(await ownSetting())
    for (const form of ['json', 'html', 'txt']) {
      const { body } = await get(`/api/sheets/${sheetId}/as/${form}`)
      for (const secret of PRIVATE) expect(body).not.toContain(secret)
    }
    const { exif, xmp, iptc } = await sharp(Buffer.from(sheet.photoJpeg!, 'base64')).metadata()
    expect([exif, xmp, iptc]).toEqual([undefined, undefined, undefined])
  })
})

describe('a link', () => {
  it('shows the sheet and nothing else, counts views, and dies when revoked or late', async () => {
    const { ownSetting, makeSheet, post, get, remove } = await start()
    const { sheetId } = await makeSheet(await ownSetting())
    const link = (await post(`/api/sheets/${sheetId}/links`, { days: 7 })).json<NewLink>()
    // 192 bits.
    expect(link.path).toMatch(/^\/s\/[A-Za-z0-9_-]{32}$/)
    const shown = await get(link.path)
    expect(shown.headers).toMatchObject({ 'content-type': 'text/html; charset=utf-8', 'cache-control': 'no-store' })
    expect(shown.body).toContain('2.3 s')
    expect((await get(`${link.path}/pdf`)).statusCode).toBe(200)
    const views = async () => (await get(`/api/sheets/${sheetId}/links`)).json<{ links: LinkEntry[] }>().links[0]?.views
    expect(await views()).toBe(1)
    for (const other of [
      '/s/',
      `${link.path.slice(0, -1)}${link.path.endsWith('A') ? 'B' : 'A'}`,
      `${link.path}/../api/readings`,
      `${link.path}/label`,
    ])
      expect((await get(other)).statusCode).toBeGreaterThanOrEqual(400)

    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 8 * 86_400_000 })
    expect((await get(link.path)).json()).toMatchObject({ code: 'no-such-link' })
    vi.useRealTimers()
    expect((await get(link.path)).statusCode).toBe(200)
    expect((await remove(`/api/sheets/${sheetId}/links/${link.linkId}`)).json()).toHaveProperty('revokedAt')
    expect((await get(link.path)).statusCode).toBe(404)
    expect((await remove(`/api/sheets/${sheetId}/links/none`)).statusCode).toBe(404)
  })

  it('needs no passphrase where everything else does', async () => {
    const { app } = await startService({ passphrase: 'four plain words' })
    const headers = { host: 'workshop.local:8080' }
    const authorization = `Basic ${Buffer.from('x:four plain words').toString('base64')}`
    const send = (method: 'GET' | 'POST', url: string, payload?: object) =>
      app.inject({ method, url, headers: { ...headers, authorization }, ...(payload && { payload }) })
    const setting = { exposureS: 2.3, layerHeightUm: 50, origin: 'own' }
    const { recordId } = (await send('POST', '/api/settings', setting)).json<StoredRecord<Setting>>()
    const { sheetId } = (await send('POST', `/api/settings/${recordId}/sheets`, {})).json<SheetEntry>()
    const { path } = (await send('POST', `/api/sheets/${sheetId}/links`, { days: 1 })).json<NewLink>()
    expect((await app.inject({ url: path, headers })).statusCode).toBe(200)
    for (const url of ['/api/settings', `/api/sheets/${sheetId}/as/json`, '/docs', '/'])
      expect((await app.inject({ url, headers })).statusCode).toBe(401)
  })
})

describe('taking in', () => {
  it('makes a setting marked as received, once however often it comes', async () => {
    const { takeIn, get } = await start()
    const first = await takeIn(JSON.stringify(fullSheet))
    expect(first.statusCode).toBe(201)
    const taken = first.json<TakenIn>()
    expect(taken).toMatchObject({
      from: 'json',
      sheet: fullSheet,
      verification: { state: 'unsigned' },
      setting: {
        content: {
          origin: 'received',
          exposureS: 2.7,
          simulated: true,
          note: 'Lab mix 4, North bench, from Workshop at the canal',
        },
      },
    })
    expect((await takeIn(JSON.stringify(fullSheet))).json<TakenIn>().setting.recordId).toBe(taken.setting.recordId)
    const label = await takeIn(
      await codePicture(labelText(labelPart(fullSheet)), 400)
        .png()
        .toBuffer(),
    )
    expect(label.json<TakenIn>()).toMatchObject({ from: 'label', setting: { recordId: taken.setting.recordId } })
    expect((await takeIn(JSON.stringify({ ...fullSheet, exposureS: 3 }))).json()).toMatchObject({
      code: 'another-sheet',
    })
    expect((await get('/api/settings')).json()).toMatchObject({ total: 1 })
  })

  it('knows a maker by the name its key was given, and refuses what was edited after signing', async () => {
    const maker = await start()
    const { sheet } = await maker.makeSheet(await maker.ownSetting(), { signed: true, photo: false })
    const { publicKey, fingerprint } = (await maker.get('/api/signing-key')).json<{
      publicKey: string
      fingerprint: string
    }>()

    const colleague = await start()
    const before = (await colleague.takeIn(JSON.stringify(sheet))).json<TakenIn>().verification
    expect(before).toMatchObject({ state: 'intact', fingerprint })
    await colleague.post('/api/known-keys', { publicKey, name: 'Canal works' })
    const after = (await colleague.takeIn(JSON.stringify(sheet))).json<TakenIn>().verification
    expect(after).toMatchObject({ state: 'intact', knownAs: 'Canal works' })
    const edited = await colleague.takeIn(JSON.stringify({ ...sheet, exposureS: 3.3 }))
    expect([edited.statusCode, edited.json<{ code: string }>().code]).toEqual([422, 'sheet-changed'])
  })

  it('refuses 50 MB of text, an empty form and garbage, and leaves no file behind', async () => {
    const { takeIn, post, storedFiles } = await start()
    const large = await takeIn(`{"schema":"${'x'.repeat(50e6)}"}`)
    expect([large.statusCode, large.json<{ code: string }>().code]).toEqual([413, 'file-too-large'])
    expect((await post('/api/settings/take-in', new FormData())).statusCode).toBeGreaterThanOrEqual(400)
    expect((await takeIn('garbage')).json()).toMatchObject({ code: 'no-sheet-in-file' })
    expect(await storedFiles()).toEqual([])
  })
})

it('shows two settings side by side, and carries one to another printer', async () => {
  const { ownSetting, takeIn, get, post, add } = await start()
  const own = await ownSetting()
  const received = (await takeIn(JSON.stringify(fullSheet))).json<TakenIn>().setting.recordId
  const { rows, inWords } = (await get(`/api/settings/side-by-side?first=${own}&second=${received}`)).json<SideBySide>()
  expect(rows[0]).toEqual({ what: 'Layer exposure', first: '2.3 s', second: '2.7 s', differs: true })
  expect(rows.find(({ what }) => what === 'Layer height')).toMatchObject({ differs: false })
  expect(inWords).toBe('The second exposes 17 % longer; their 95 % intervals overlap, so they may well agree.')

  const printerId = await add('printers', {
    name: 'South',
    pixelPitchUm: 34,
    timeStepS: 0.1,
    irradiance: [{ date: '2026-05-01', mwPerCm2: 6.2 }],
  })
  // The same dose under twice the light: half the time.
  const adapted = (await post(`/api/settings/${received}/adapt`, { printerId })).json<Adapted>()
  expect(adapted.byIrradiance?.exposureS).toBeCloseTo(1.35, 6)
  expect(adapted.threeRungsS).toHaveLength(3)
  expect(adapted.threeRungsS[0]).toBeLessThan(1.35)
  expect(adapted.threeRungsS[2]).toBeGreaterThan(1.35)
  const blind = (await post(`/api/settings/${received}/adapt`, {})).json<Adapted>()
  expect(blind.byIrradiance).toBeUndefined()
  expect(blind.threeRungsS[0]).toBeLessThan(2.415)
})

it('publishes many settings as page, CSV and JSON, sorted by printer and layer height', async () => {
  const { takeIn, get } = await start()
  const ids: string[] = []
  for (const [sheetId, printer, layerHeightUm] of [
    ['AAAAAAA1', 'South', 50],
    ['AAAAAAA2', 'North', 100],
    ['AAAAAAA3', 'North', 50],
  ] as const)
    ids.push(
      (await takeIn(JSON.stringify({ ...fullSheet, sheetId, printer, layerHeightUm }))).json<TakenIn>().setting
        .recordId,
    )
  const as = (form: string) => get(`/api/settings/table/${form}?ids=${ids.join(',')}&title=Spring`)
  const table = (await as('json')).json<SettingTable>()
  expect(table.settings.map(({ printer, layerHeightUm }) => [printer, layerHeightUm])).toEqual([
    ['North', 50],
    ['North', 100],
    ['South', 50],
  ])
  const [head, ...lines] = (await as('csv')).body.split('\r\n')
  expect(head).toBe('printer,layerHeightUm,resin,bottle,batch,exposureS,lowS,highS,temperatureC,simulated')
  expect(lines[0]).toBe('North,50,Lab mix 4,"Shelf 2, left",B-0417,2.7,2.415,3.087,23,true')
  expect((await as('html')).body).toContain('<h1>Spring</h1>')
  expect((await get('/api/settings/table/csv?ids=nobody')).statusCode).toBe(400)
})

/** Paths of all fields of a schema, in order of the alphabet. */
function fieldsOf(schema: object): string[] {
  const walk = (node: Record<string, unknown>, path: string): string[] => {
    if (node['properties'])
      return Object.entries(node['properties'] as Record<string, Record<string, unknown>>).flatMap(([name, child]) =>
        walk(child, path === '' ? name : `${path}.${name}`),
      )
    const items = node['items'] as Record<string, unknown> | undefined
    return items?.['properties'] ? walk(items, `${path}[]`) : [path]
  }
  return walk(schema as Record<string, unknown>, '').sort()
}
