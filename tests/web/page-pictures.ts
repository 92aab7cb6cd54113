import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join, resolve } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import sharp from 'sharp'
import { buildApp } from '../../server/app.js'
import { openPhotoPool } from '../../server/worker/photo-pool.js'
import { openBrowser } from '../support/open-browser.js'
import { drawPhoto } from '../support/photo-drawing.js'
import { aged, sanded } from '../support/process-fixture.js'
import { refused } from '../support/reading-fixture.js'
import { fillShelf, readPhoto, type Photographed } from './shelf.js'

// Takes the pictures of docs/pages from the built page over a real service. What is read there are the simulated
// photographs of samples/; names of bottles and printers, and the readings of sanded, aged and cropped coupons, are invented.

const kinds = {
  phone: { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true, colorScheme: 'light' },
  desktop: { viewport: { width: 1280, height: 900 }, colorScheme: 'light' },
  dark: { viewport: { width: 1280, height: 900 }, colorScheme: 'dark' },
} as const
const TALLEST_PX = 2400
const only = process.argv.slice(2)

const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-pictures-'))
const webFolder = resolve('dist/web')
const pool = openPhotoPool()
let invented: ReturnType<typeof aged> | typeof refused | undefined
const app = await buildApp({
  dataFolder,
  webFolder,
  pool: { ...pool, read: async (...task) => invented ?? pool.read(...task) },
})
const locked = await buildApp({
  dataFolder: mkdtempSync(join(dataFolder, 'locked-')),
  webFolder,
  passphrase: 'made up for this picture',
})

const SAMPLES: Partial<Record<Photographed, string>> = {
  demo: 'demo-ladder',
  soft: 'demo-ladder-soft',
  foggy: 'hazy-yellow',
}
const drawn = await drawPhoto()
async function read(what: Photographed): Promise<string> {
  const sample = SAMPLES[what]
  invented = undefined
  if (sample) return readPhoto(app.service, `samples/${sample}.jpg`, `${sample}.jpg`)
  invented = what === 'refused' ? refused : what === 'sanded' ? sanded : aged(Number(what.replace('aged ', '')))
  const path = join(dataFolder, `${what}.jpg`)
  writeFileSync(path, Buffer.concat([drawn, Buffer.from(what)]))
  return readPhoto(app.service, path, basename(path))
}

/** What is done on a page before its picture is taken, and what of it is shown where that is not all. */
const STEPS: Readonly<Record<string, (page: Page) => Promise<Locator | void>>> = {
  compare: async (page) => {
    await page.locator('main input[type=checkbox]').first().waitFor()
    for (const box of (await page.locator('main input[type=checkbox]').all()).slice(4, 7)) await box.check()
    await page.locator('form button.main').click()
    await page.locator('.chart svg').first().waitFor()
  },
  'reading-zoom': async (page) => {
    await page.locator('.zoom-buttons button').first().waitFor()
    for (let i = 0; i < 3; i++) await page.locator('.zoom-buttons button').first().click()
    await page.waitForTimeout(1500)
    return page.locator('section:has(> .zoom), section:has(.zoom)').first()
  },
  timers: async (page) => {
    await page.locator('details:has(#timer-name) > summary').click()
    await page.locator('#timer-name').fill('Second bath')
    await page.getByLabel('Minutes').first().fill('4')
    await page.locator('form:has(#timer-name) button').click()
    return page.locator('section:has(#timer-name)')
  },
  'finish-route': async (page) => {
    for (const box of await page.locator('main input[type=checkbox]:visible').all())
      if (!(await box.isChecked())) await box.check()
  },
  'finish-smooth': answer,
  'finish-post-cure': answer,
  'finish-prepare': answer,
  'plan-first-ladder': answer,
}
async function answer(page: Page): Promise<void> {
  await page.locator('main form button.main').first().click()
  await page.waitForTimeout(1200)
}

async function settle(page: Page): Promise<void> {
  await page.locator('h1').first().waitFor()
  await page.waitForLoadState('networkidle')
  await page.evaluate('document.fonts.ready')
  await page.waitForFunction(() => !document.querySelector('[aria-busy=true]')?.checkVisibility())
  await page.waitForTimeout(1000)
}

const browser = await openBrowser()
try {
  const url = await app.listen({ port: 0, host: '127.0.0.1' })
  const lockedUrl = await locked.listen({ port: 0, host: '127.0.0.1' })
  const shelf = await fillShelf(app.service, read)
  const pages: Record<string, string> = {
    ...Object.fromEntries(Object.entries(shelf).map(([name, address]) => [name, url + address])),
    'reading-zoom': `${url}${shelf['reading']!}`,
    timers: `${url}/#/finish`,
    'sign-in': lockedUrl,
  }
  mkdirSync('docs/pages', { recursive: true })
  for (const [kind, context] of Object.entries(kinds)) {
    const page = await (await browser.newContext({ ...context, locale: 'en-GB' })).newPage()
    page.setDefaultTimeout(120_000)
    for (const [name, address] of Object.entries(pages)) {
      if (only.length > 0 && !only.includes(name)) continue
      await page.goto('about:blank')
      await page.goto(address)
      await settle(page)
      const part = await STEPS[name]?.(page)
      // A bar that is fixed to the window would lie in the middle of a long picture.
      const height0 = Number(await page.evaluate('document.documentElement.scrollHeight'))
      const height = Math.min(Math.max(context.viewport.height, height0), TALLEST_PX)
      await page.setViewportSize({ ...context.viewport, height })
      await page.waitForTimeout(300)
      await page.evaluate('scrollTo(0, 0)')
      const picture = sharp(await (part ?? page).screenshot())
      await page.setViewportSize(context.viewport)
      const size = await picture.metadata()
      const file = `docs/pages/${name}-${kind}.webp`
      await picture
        .extract({ left: 0, top: 0, width: size.width, height: Math.min(size.height, TALLEST_PX) })
        .webp({ quality: 60, effort: 6 })
        .toFile(file)
      console.log(basename(file))
    }
  }
} finally {
  await browser.close()
  await app.close()
  await locked.close()
  rmSync(dataFolder, { recursive: true })
}
