import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { sheetHtml } from '../../../server/sheets/sheet-html.js'
import { settingTable, tableHtml } from '../../../server/sheets/setting-table.js'
import { sheetWords } from '../../../server/sheets/sheet-words.js'
import { openBrowser } from '../../support/open-browser.js'
import { fullSheet } from './sheets.js'

const folder = mkdtempSync(join(tmpdir(), 'stepglass-page-'))
let browser: Browser
beforeAll(async () => void (browser = await openBrowser()))
afterAll(async () => {
  await browser.close()
  rmSync(folder, { recursive: true })
})

/** Opens a page from the disk with the network cut, and tells what it tried and complained of. */
async function open(html: string, width: number) {
  const file = join(folder, 'page.html')
  writeFileSync(file, html)
  const context = await browser.newContext({ offline: true, viewport: { width, height: 900 } })
  const page = await context.newPage()
  const [asked, complaints]: [string[], string[]] = [[], []]
  page.on('request', (request) => void (/^(file|data):/.test(request.url()) || asked.push(request.url())))
  page.on('console', (message) => void complaints.push(message.text()))
  page.on('dialog', (dialog) => void (complaints.push('a dialog'), void dialog.dismiss()))
  await page.goto(pathToFileURL(file).href)
  return { page, asked, complaints, close: () => context.close() }
}

it.each([360, 1200])('opens from the disk without a network, %i px wide, and says all of it', async (width) => {
  const { page, asked, complaints, close } = await open(sheetHtml(fullSheet), width)
  const said = await page.locator('main').innerText()
  const { exposure, range, facts, warning } = sheetWords(fullSheet)
  for (const words of [exposure, range, warning!, ...facts.flat()]) expect(said).toContain(words)
  expect(await page.locator('img').evaluate((img: HTMLImageElement) => img.naturalWidth)).toBeGreaterThan(0)
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true)
  expect([asked, complaints]).toEqual([[], []])
  await close()
})

it('shows hostile names as the text they are', async () => {
  const name = '</script><script>alert(1)</script><img src=x onerror=alert(2)>'
  const hostile = { ...fullSheet, note: name, printer: name, resin: { name } }
  for (const html of [sheetHtml(hostile), tableHtml(settingTable([hostile], '2026-11-25', name))]) {
    const { page, asked, complaints, close } = await open(html, 800)
    expect(await page.locator('body').innerText()).toContain(name)
    expect([asked, complaints]).toEqual([[], []])
    await close()
  }
})
