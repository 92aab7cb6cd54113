import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { BrowserContextOptions, Page } from 'playwright-core'
import { expect, onTestFinished } from 'vitest'
import type { Stage } from '../../analysis/measure-ladder.js'
import type { LadderReading, MeasureOptions } from '../../analysis/result.js'
import { buildApp } from '../../server/app.js'
import extractSetting from '../../server/worker/extract-setting.js'
import makePicture from '../../server/worker/make-picture.js'
import type { PhotoPool } from '../../server/worker/photo-pool.js'
import { openBrowser } from '../support/open-browser.js'
import { drawPhoto } from '../support/photo-drawing.js'
import { answered } from '../support/reading-fixture.js'

type Read = (
  options: Partial<MeasureOptions>,
  onStage: (stage: Stage) => void,
) => LadderReading | Promise<LadderReading>

/** Colours do not depend on the size: each scheme is looked at in one of them. */
const windows = {
  'light phone': { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true, colorScheme: 'light' },
  'dark desktop': { viewport: { width: 1280, height: 900 }, colorScheme: 'dark' },
} as const
type WindowKind = keyof typeof windows

/** The page, opened; every error in its console is kept. */
export interface Opened {
  readonly page: Page
  readonly errors: string[]
}

const standIn = (reader: { readonly read: Read }): PhotoPool => ({
  readers: 1,
  read: async (_path, options, onStage) => reader.read(options, onStage),
  extractSetting: (path) => extractSetting({ path }),
  makePicture,
  close: () => Promise.resolve(),
})

/**
 * The service and a browser to look at it.
 *
 * @param options.realReader true: photographs are really read (default: a stand-in says what it is told to say)
 */
export async function openWorkshop({ realReader = false } = {}) {
  const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-page-'))
  const reader: { read: Read } = { read: () => answered }
  const app = await buildApp({
    dataFolder,
    webFolder: resolve('dist/web'),
    ...(!realReader && { pool: standIn(reader) }),
  })
  const url = await app.listen({ port: 0, host: '127.0.0.1' })
  const browser = await openBrowser()
  const photo = await drawPhoto()
  let photos = 0

  /** A photograph the service has not seen: the bytes after the end of the picture differ. */
  function freshPhoto(): { name: string; mimeType: string; buffer: Buffer } {
    photos += 1
    const buffer = Buffer.concat([photo, Buffer.from(`photo ${photos}`)])
    return { name: `ladder-${photos}.jpg`, mimeType: 'image/jpeg', buffer }
  }

  /** Opens the page in a window of its own, closed when the test ends. */
  async function open(kind: WindowKind = 'dark desktop', more: BrowserContextOptions = {}): Promise<Opened> {
    // A page that is still gliding to its place would be measured where it is not.
    const context = await browser.newContext({
      ...windows[kind],
      serviceWorkers: 'block',
      reducedMotion: 'reduce',
      ...more,
    })
    onTestFinished(() => context.close())
    const page = await context.newPage()
    const errors: string[] = []
    page.on('pageerror', (error) => errors.push(String(error)))
    page.on('console', (message) => message.type() === 'error' && errors.push(message.text()))
    await page.goto(url)
    return { page, errors }
  }

  /** Sends a photograph through the page; the reader will say this of it. */
  async function upload({ page }: Opened, read: Read): Promise<void> {
    reader.read = read
    await page.getByLabel('Choose a photo').setInputFiles(freshPhoto())
    await page.waitForURL(/#\/reading\//)
  }

  async function close(): Promise<void> {
    await browser.close()
    await app.close()
    rmSync(dataFolder, { recursive: true })
  }
  return { app, url, dataFolder, reader, freshPhoto, open, upload, close }
}

/** Waits until this many charts are drawn, so that what is checked next is the whole page. */
export async function waitForCharts({ page }: Opened, count: number): Promise<void> {
  await expect.poll(() => page.locator('.chart svg').count(), { timeout: 40_000 }).toBe(count)
}

/** What axe-core finds against a page, whatever its weight. Without frames, its older way needs no second page. */
export const violationsOf = async (page: Page) =>
  (
    await new AxeBuilder({ page })
      .options({ resultTypes: ['violations'] })
      .setLegacyMode()
      .analyze()
  ).violations

/** Nothing in the console, no sideways scroll, no accessibility violation. */
export async function expectSound({ page, errors }: Opened): Promise<void> {
  expect(await violationsOf(page)).toEqual([])
  expect(await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBe(0)
  expect(errors).toEqual([])
}
