import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { LadderReading } from '../../analysis/result.js'
import { aged, sanded } from '../support/process-fixture.js'
import { answered, refused } from '../support/reading-fixture.js'
import { fillShelf, readPhoto, type Photographed } from './shelf.js'
import { openWorkshop, violationsOf } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
let pages: Record<string, string>

const other = { ...answered, design: { ...answered.design, ladderId: 'K7Q2XP' } }
const RESULTS: Readonly<Record<Exclude<Photographed, `aged ${number}`>, LadderReading>> = {
  ...{ demo: answered, soft: answered, foggy: other, refused, sanded },
}

beforeAll(async () => {
  workshop = await openWorkshop()
  pages = await fillShelf(workshop.app.service, async (what) => {
    workshop.reader.read = () =>
      what in RESULTS ? RESULTS[what as keyof typeof RESULTS] : aged(Number(what.replace('aged ', '')))
    const { name, buffer } = workshop.freshPhoto()
    const path = join(workshop.dataFolder, name)
    writeFileSync(path, buffer)
    return readPhoto(workshop.app.service, path, name)
  })
})
afterAll(() => workshop.close())

/** What is done on a page before it is looked at. */
const STEPS: Readonly<Record<string, (page: Page) => Promise<void>>> = {
  'new-ladder': async (page) => void (await page.locator('main form select').last().selectOption('grit')),
  reading: async (page) => {
    for (let i = 0; i < 3; i++) await page.locator('.zoom-buttons button').first().click()
  },
  compare: async (page) => {
    const boxes = page.locator('main input[type=checkbox]')
    await boxes.first().waitFor()
    for (const box of await boxes.all()) await box.check()
    await page.locator('main form button.main').click()
    await page.locator('.chart svg').first().waitFor()
  },
}

/** Until nothing is awaited any more and all that can be unfolded is. */
async function settle(page: Page): Promise<void> {
  await page.locator('h1').first().waitFor()
  const isQuiet = () => {
    for (const folded of document.querySelectorAll('details')) folded.open = true
    const waiting = [...document.querySelectorAll('[aria-busy=true], .chart:not(:has(svg))')]
    return !waiting.some((one) => one.checkVisibility()) && [...document.images].every((image) => image.complete)
  }
  // What was unfolded just now may begin to wait in turn.
  for (let quiet = 0; quiet < 2; quiet++) {
    await page.waitForFunction(isQuiet)
    await page.waitForLoadState('networkidle')
  }
}

const PHONE = { width: 390, height: 844 }
const DESK = { width: 1280, height: 900 }

async function resize(page: Page, size: { width: number; height: number }): Promise<void> {
  await page.setViewportSize(size)
  // Charts are drawn anew for another width.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))
}

/** How far the page can be pushed sideways. */
function overhang(): string[] {
  const { scrollWidth, clientWidth } = document.documentElement
  return scrollWidth > clientWidth ? [`${scrollWidth - clientWidth} px wider than ${clientWidth} px`] : []
}

/** What a finger would miss: less than 44 px (WCAG 2.2, 2.5.5, which lets links within a sentence be as small as it is). */
function smallTargets(): string[] {
  const targets = document.querySelectorAll<HTMLElement>('a[href], button, input, select, textarea, summary')
  return [...targets].flatMap((target) => {
    const { width, height } = (target.closest('label') ?? target).getBoundingClientRect()
    const inSentence = getComputedStyle(target).display === 'inline' && target.parentElement?.matches('p, li, dd, td')
    if (width === 0 || inSentence || target.matches('.skip') || (width >= 43.5 && height >= 43.5)) return []
    return [`${Math.round(width)} x ${Math.round(height)} px: ${target.outerHTML.slice(0, 160)}`]
  })
}

/** All that is read or heard of the page. */
function saidOnPage(): string {
  const inputs = [...document.querySelectorAll<HTMLInputElement>('input:not([type=range])')].map(({ value }) => value)
  const labels = [...document.querySelectorAll('[aria-label]')].map((one) => one.getAttribute('aria-label'))
  const drawn = [...document.querySelectorAll('svg text')].map(({ textContent }) => textContent)
  return [document.body.innerText, ...inputs, ...labels, ...drawn].join('\n')
}

/** Numbers with a point, which are written with a comma in German. Days and addresses are not: 26.11.2026, 0.0.0.0. */
const pointsIn = (said: string): string[] =>
  said.replaceAll(/\d+\.\d+\.(\d+)?/g, '').match(/.{0,20}\d\.\d.{0,20}/g) ?? []

/** Every text of four words or more in an answer of the service. */
const sentencesIn = (answer: unknown): string[] => {
  if (typeof answer === 'string') return answer.split(' ').length > 3 ? [answer] : []
  return typeof answer === 'object' && answer ? Object.values(answer).flatMap(sentencesIn) : []
}
/** Typed by people, who wrote them in English. */
const TYPED = ['Handed over with the printer.', 'dark cupboard, 20 °C']

/** Keeps what the service says in English while the page is looked at; the steps around printing come in German. */
function listen(page: Page): Set<string> {
  const heard = new Set<string>()
  page.on('response', async (response) => {
    const url = new URL(response.url())
    if (!url.pathname.startsWith('/api/') || url.searchParams.has('language')) return
    if (!response.headers()['content-type']?.includes('json')) return
    const answer: unknown = await response.json().catch(() => undefined)
    for (const sentence of sentencesIn(answer)) if (!TYPED.includes(sentence)) heard.add(sentence)
  })
  return heard
}

it.each([
  { locale: 'en', colorScheme: 'light', size: PHONE },
  { locale: 'de', colorScheme: 'dark', size: DESK },
] as const)(
  'has no page with a fault of accessibility in $locale, $colorScheme, $size.width px wide, nor one that a phone, a finger or a reader of that language misses',
  async ({ locale, colorScheme, size }) => {
    const { page, errors } = await workshop.open('dark desktop', { locale, colorScheme, viewport: size })
    const heard = listen(page)
    const faults: string[] = []
    for (const [name, address] of Object.entries(pages)) {
      await page.goto(workshop.url + address)
      await settle(page)
      await STEPS[name]?.(page)
      await settle(page)
      const found: string[] = []
      await resize(page, { width: 320, height: 640 })
      found.push(...(await page.evaluate(overhang)))
      await resize(page, PHONE)
      found.push(...(await page.evaluate(overhang)), ...(await page.evaluate(smallTargets)))
      await resize(page, size)
      for (const { id, nodes } of await violationsOf(page))
        found.push(...nodes.map(({ html }) => `${id} at ${html.slice(0, 160)}`))
      if (locale === 'de' && name !== 'shared-sheet') {
        const said = await page.evaluate(saidOnPage)
        found.push(...pointsIn(said).map((number) => `point in "${number}"`))
        found.push(
          ...[...heard].filter((sentence) => said.includes(sentence)).map((sentence) => `English: ${sentence}`),
        )
      }
      faults.push(...found.map((fault) => `${name}: ${fault}`))
    }
    expect(faults).toEqual([])
    expect(errors).toEqual([])
  },
)
