import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join, resolve } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { format } from 'prettier'
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
/** What each picture shows, in the order of docs/pages/README.md. */
const TITLES: Readonly<Record<string, string>> = {
  start: 'Now: photograph, what is under way, latest settings',
  ladders: 'Ladders, searched',
  'new-ladder': 'A new ladder',
  ladder: 'A ladder: files, checklist, order to print in',
  'ladder-answer': 'A ladder with its answer',
  reading: 'What one photograph says',
  'reading-zoom': 'A photo enlarged',
  'reading-refused': 'A photo that cannot be read',
  'two-photos': 'Two photographs of one ladder',
  'process-ladder': 'A ladder of grits',
  'process-reading': 'What a ladder of grits says',
  ageing: 'Coupons photographed again over months',
  plan: 'Planning',
  'plan-first-ladder': 'The first ladder of a resin',
  'plan-layer-height': 'Another layer height',
  'plan-working-curve': 'Working curve',
  'plan-lamp': 'Another lamp',
  compare: 'Comparing bottles',
  bottles: 'Bottles',
  resins: 'Resins',
  printers: 'Printers',
  settings: 'Settings',
  reports: 'Reports of brittle and soft parts',
  'hand-on': 'A setting handed on: sheet, labels, links',
  'shared-sheet': 'The sheet, as a colleague sees it by link',
  'take-in': 'Taking a setting in',
  finish: 'Finish: the route of a part, curing, sanding, timers',
  'finish-route': 'The route of a part, ticked',
  timers: 'Timers',
  'finish-prepare': 'Preparing a part',
  'finish-post-cure': 'Post-cure in stages',
  'finish-smooth': 'Grits from layer step to polish',
  more: 'More',
  phone: 'Opening it on a phone',
  data: 'Export and import',
  help: 'Help in drawings',
  'sign-in': 'Signing in',
}
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
  ageing: async (page) => {
    await page.locator('details > summary').nth(2).click()
    await page.locator('.chart svg').first().waitFor()
  },
  'finish-smooth': answer,
  'finish-prepare': async (page) => {
    await page.getByLabel('Resin as it is').fill('16')
    await answer(page)
  },
  'plan-first-ladder': answer,
}
async function answer(page: Page): Promise<void> {
  await page.locator('main form button.main').first().click()
  await page.waitForTimeout(1200)
}

function contents(): string {
  const sections = Object.entries(TITLES).map(([name, title]) => {
    const cells = Object.keys(kinds).map((kind) => `![${title}, ${kind}](${name}-${kind}.webp)`)
    return `## ${title}\n\n| ${Object.keys(kinds).join(' | ')} |\n| --- | --- | --- |\n| ${cells.join(' | ')} |`
  })
  return [
    '# Every page, in pictures',
    'Taken by `npx tsx tests/web/page-pictures.ts` from the built page over a real service. What is read are the **simulated** photographs of `samples/`; names of bottles and printers are invented, and so are the readings of the ladders SANDED and AGEING and of the photograph that cannot be read. Long pages are cut.',
    ...sections,
  ].join('\n\n')
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
  const untitled = Object.keys(pages).filter((name) => TITLES[name] === undefined)
  if (untitled.length > 0) throw new Error(`no title for ${untitled.join(', ')}`)
  mkdirSync('docs/pages', { recursive: true })
  for (const [kind, context] of Object.entries(kinds)) {
    const page = await (await browser.newContext({ ...context, locale: 'en-GB', reducedMotion: 'reduce' })).newPage()
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
  writeFileSync('docs/pages/README.md', await format(contents(), { parser: 'markdown', printWidth: 120 }))
} finally {
  await browser.close()
  await app.close()
  await locked.close()
  rmSync(dataFolder, { recursive: true })
}
