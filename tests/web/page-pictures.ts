import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join, resolve } from 'node:path'
import type { Page } from 'playwright-core'
import sharp from 'sharp'
import type { Setting } from '../../server/api/records.js'
import { buildApp } from '../../server/app.js'
import { makeSheet } from '../../server/sheets/gather.js'
import { openBrowser } from '../support/open-browser.js'

// Takes the pictures of docs/pages from the built page over a real service. What is read there are the simulated
// photographs of samples/; names of bottles and printers are invented.

const kinds = {
  phone: { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true, colorScheme: 'light' },
  desktop: { viewport: { width: 1280, height: 900 }, colorScheme: 'light' },
  dark: { viewport: { width: 1280, height: 900 }, colorScheme: 'dark' },
} as const
const TALLEST_PX = 2400
const only = process.argv.slice(2)

const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-pictures-'))
const app = await buildApp({ dataFolder, webFolder: resolve('dist/web') })
const { store, queue } = app.service

async function readSample(name: string): Promise<string> {
  const received = await store.files.receiveFile(`samples/${name}.jpg`)
  const facts = { name: `${name}.jpg`, extension: 'jpg', simulated: true }
  const { readingId } = await store.accept(received, facts, {})
  await store.files.discard(received)
  queue.wake()
  for await (const _ of queue.follow(readingId, new AbortController().signal));
  return readingId
}

/** Fills the service; returns where each page is. */
async function fill(): Promise<Record<string, string>> {
  await readSample('demo-ladder-soft')
  const demo = await readSample('demo-ladder')
  const foggy = await readSample('hazy-yellow')
  const resin = await store.records.add('resin', { name: 'Clear trial resin', maker: 'Example maker', colour: 'clear' })
  const bottles = await Promise.all(
    ['Shelf 2, left', 'New in March'].map((name, i) =>
      store.records.add('bottle', {
        name,
        resinId: resin.recordId,
        batch: `B-041${i}`,
        openedOn: `2026-0${i + 2}-03`,
        storedAt: 'dark cupboard, 20 °C',
        remainingMl: 640 - 200 * i,
      }),
    ),
  )
  const printer = await store.records.add('printer', {
    name: 'North bench',
    pixelPitchUm: 34,
    timeStepS: 0.1,
    irradiance: [{ date: '2026-02-10', mwPerCm2: 3.1, place: 'centre' }],
  })
  const design = { layerHeightUm: 50, pixelPitchUm: 34 }
  const facts = { bottleId: bottles[0]!.recordId, printerId: printer.recordId, temperatureC: 24, timeStepS: 0.1 }
  const planned = await store.ladders.plan({ ...design, exposuresS: [1.8, 2.1, 2.4, 2.8, 3.2, 3.7] }, facts)
  await store.ladders.plan(
    { ...design, layerHeightUm: 30, exposuresS: [1.2, 1.4, 1.6] },
    { ...facts, bottleId: bottles[1]!.recordId, steps: ['printed'] },
  )
  const setting = await store.records.add('setting', {
    exposureS: 2.3,
    intervalS: [2.2, 2.4],
    layerHeightUm: 50,
    origin: 'received',
    bottleId: bottles[0]!.recordId,
    printerId: printer.recordId,
    note: 'Handed over with the printer.',
  })
  const sheet = await makeSheet(app.service, setting.content as Setting, { madeBy: 'North workshop' }, '2026-02-12')
  await store.sheets.add(setting.recordId, sheet)
  const demoLadder = (await store.readings.summary(demo))!.outcome!.design!.ladderId
  for (const [readingId, bottle] of [
    [demo, bottles[0]!],
    [foggy, bottles[1]!],
  ] as const) {
    const { ladderId } = (await store.readings.summary(readingId))!.outcome!.design!
    await store.ladders.change(ladderId, { facts: { ...facts, bottleId: bottle.recordId } })
  }
  return {
    start: '#/',
    ladders: '#/ladders',
    'new-ladder': '#/print',
    ladder: `#/ladder/${planned.design.ladderId}`,
    'ladder-answer': `#/ladder/${demoLadder}`,
    'two-photos': `#/pair/${demoLadder}`,
    reading: `#/reading/${demo}`,
    plan: '#/plan',
    'plan-layer-height': `#/plan/layer-height?reading=${demo}`,
    compare: '#/compare',
    bottles: '#/records/bottle',
    settings: '#/records/setting',
    'hand-on': `#/setting/${setting.recordId}`,
    'take-in': '#/take-in',
    finish: '#/finish',
    more: '#/more',
    phone: '#/phone',
    data: '#/data',
    help: '#/help',
  }
}

async function settle(page: Page, name: string): Promise<void> {
  await page.locator('main h1').waitFor()
  if (name === 'compare') {
    await page.locator('main input[type=checkbox]').first().waitFor()
    for (const box of (await page.locator('main input[type=checkbox]').all()).slice(0, 3)) await box.check()
    await page.locator('form button.main').click()
    await page.locator('.chart svg').first().waitFor()
  }
  await page.waitForLoadState('networkidle')
  await page.evaluate('document.fonts.ready')
  await page.waitForTimeout(300)
}

const browser = await openBrowser()
try {
  const url = await app.listen({ port: 0, host: '127.0.0.1' })
  const pages = await fill()
  mkdirSync('docs/pages', { recursive: true })
  for (const [kind, context] of Object.entries(kinds)) {
    const page = await (await browser.newContext(context)).newPage()
    for (const [name, address] of Object.entries(pages)) {
      if (only.length > 0 && !only.includes(name)) continue
      await page.goto('about:blank')
      await page.goto(`${url}/${address}`)
      await settle(page, name)
      // A bar that is fixed to the window would lie in the middle of a long picture.
      const height0 = await page.evaluate('document.documentElement.scrollHeight')
      await page.setViewportSize({
        ...context.viewport,
        height: Math.min(Math.max(context.viewport.height, Number(height0)), TALLEST_PX),
      })
      await page.waitForTimeout(300)
      const picture = sharp(await page.screenshot())
      await page.setViewportSize(context.viewport)
      const { width, height } = await picture.metadata()
      const file = `docs/pages/${name}-${kind}.webp`
      await picture
        .extract({ left: 0, top: 0, width, height: Math.min(height, TALLEST_PX) })
        .webp({ quality: 60, effort: 6 })
        .toFile(file)
      console.log(basename(file))
    }
  }
} finally {
  await browser.close()
  await app.close()
  rmSync(dataFolder, { recursive: true })
}
