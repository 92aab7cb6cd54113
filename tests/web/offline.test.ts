import { connect, createServer, type AddressInfo, type Socket } from 'node:net'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it, onTestFinished } from 'vitest'
import type { ReadingList } from '../../server/api/readings.js'
import { answered } from '../support/reading-fixture.js'
import { openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

const readings = async () => ((await (await fetch(`${workshop.url}/api/readings`)).json()) as ReadingList).total
const choose = (page: Page) => page.getByLabel('Choose a photo').setInputFiles(workshop.freshPhoto())
const KEPT = 'The service cannot take it at the moment. The photo is kept on this device and sent by itself.'

it('keeps a photo while there is no connection and sends it once when there is one', async () => {
  const { page } = await workshop.open('light phone')
  const before = await readings()
  await page.context().setOffline(true)
  await choose(page)
  await page.getByText(KEPT).waitFor()
  await page.getByRole('region', { name: 'Photos on their way' }).waitFor()
  expect(await readings()).toBe(before)

  await page.context().setOffline(false)
  await page.getByRole('link', { name: 'Open the reading' }).click()
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  expect(await readings()).toBe(before + 1)
  expect(await page.getByRole('region', { name: 'Photos on their way' }).count()).toBe(0)
})

it('does not send twice what arrived although the connection broke before the answer', async () => {
  const { page } = await workshop.open('light phone')
  const before = await readings()
  let posts = 0
  await page.route('**/api/photos', async (route) => {
    posts += 1
    await route.fetch()
    await route.abort()
  })
  await choose(page)
  await page.getByText(/ arrived\.$|arrived\. Open the reading/).waitFor()
  expect(posts).toBe(1)
  expect(await readings()).toBe(before + 1)
})

/** A wire between page and service, which can be cut and mended. */
async function openWire() {
  const ends = new Set<Socket>()
  let cut = false
  let cutAfterB = Infinity
  const wire = createServer((near) => {
    const far = connect(Number(new URL(workshop.url).port), '127.0.0.1')
    for (const end of [near, far]) {
      ends.add(end)
      end.on('error', () => end.destroy()).on('close', () => ends.delete(end))
    }
    if (cut) near.destroy()
    let sentB = 0
    near.on('data', (bytes: Buffer) => {
      sentB += bytes.length
      if (sentB < cutAfterB) return
      cut = true
      for (const end of ends) end.destroy()
    })
    near.pipe(far).pipe(near)
  })
  await new Promise<void>((done) => wire.listen(0, '127.0.0.1', done))
  onTestFinished(() => void wire.close())
  return {
    url: `http://127.0.0.1:${(wire.address() as AddressInfo).port}`,
    cutAfter: (bytes: number) => void (cutAfterB = bytes),
    isCut: () => cut,
    mend: () => {
      cutAfterB = Infinity
      cut = false
    },
  }
}

it('sends a photo anew, once, when the connection broke in the middle of it', async () => {
  const { page } = await workshop.open('light phone')
  const before = await readings()
  const wire = await openWire()
  await page.goto(wire.url)
  wire.cutAfter(40_000)
  await choose(page)
  await page.getByText(KEPT).waitFor()
  expect([wire.isCut(), await readings()]).toEqual([true, before])
  wire.mend()
  await page.getByRole('link', { name: 'Open the reading' }).waitFor()
  expect(await readings()).toBe(before + 1)
})

it('keeps what waits over a reload', async () => {
  const { page } = await workshop.open('light phone')
  const before = await readings()
  await page.route('**/api/photos', (route) => route.abort())
  await choose(page)
  await page.getByText(KEPT).waitFor()
  await page.reload()
  await page.getByRole('region', { name: 'Photos on their way' }).waitFor()
  await page.unroute('**/api/photos')
  await page.getByRole('link', { name: 'Open the reading' }).waitFor()
  expect(await readings()).toBe(before + 1)
})

it('sends from two tabs what counts once, and shows in one what the other did', async () => {
  const { page: first } = await workshop.open('dark desktop')
  const second = await first.context().newPage()
  await second.goto(workshop.url)
  const before = await readings()
  await first.context().setOffline(true)
  await choose(first)
  await first.getByText(KEPT).waitFor()
  await first.context().setOffline(false)
  await expect.poll(readings, { timeout: 30_000 }).toBe(before + 1)
  // Both look again every few seconds; neither finds anything left to send.
  await first.waitForTimeout(6_000)
  expect(await readings()).toBe(before + 1)

  await second.goto(`${workshop.url}/#/ladder/${answered.design.ladderId}`)
  await first.goto(`${workshop.url}/#/ladder/${answered.design.ladderId}`)
  await first.getByRole('button', { name: 'Put this ladder away' }).click()
  await first.getByText('Put away.').waitFor()
  await second.getByRole('button', { name: 'Put this ladder away' }).click()
  await second.getByRole('button', { name: 'Undo' }).click()
  await second.getByRole('button', { name: 'Put this ladder away' }).waitFor()
})

it('starts without a connection once it was installed', async () => {
  const { page } = await workshop.open('light phone', { serviceWorkers: 'allow' })
  await page.evaluate('navigator.serviceWorker.ready')
  // The first visit was not yet served by the worker; the second fills its cache.
  await page.reload()
  await page.getByRole('heading', { level: 1, name: 'What now?' }).waitFor()
  await page.waitForLoadState('networkidle')
  await page.context().setOffline(true)
  await page.reload()
  await page.getByRole('heading', { level: 1, name: 'What now?' }).waitFor()
  await choose(page)
  await page.getByText(KEPT).waitFor()
  await page.context().setOffline(false)
  await page.getByRole('link', { name: 'Open the reading' }).waitFor()
})
