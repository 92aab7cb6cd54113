import { readFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { answered } from '../support/reading-fixture.js'
import { expectSound, openWorkshop, waitForCharts } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

describe.each(['light phone', 'dark desktop'] as const)('on a %s', (kind) => {
  it('adds, changes, finds, puts away and brings back a bottle', async () => {
    const window = await workshop.open(kind)
    const { page } = window
    const name = `Shelf of the ${kind}`
    await page.goto(`${workshop.url}/#/records/bottle`)
    await page.getByRole('button', { name: 'Add a bottle' }).click()
    await page.getByLabel('Name').fill(name)
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('heading', { name }).waitFor()
    await page.getByRole('button', { name: `Edit: ${name}` }).click()
    await page.getByLabel('Remaining, ml').fill('420')
    await expectSound(window)
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('listitem').filter({ hasText: name }).getByText('420 ml').waitFor()

    await page.getByRole('button', { name: `Put away: ${name}` }).click()
    await page.getByRole('heading', { name }).waitFor({ state: 'detached' })
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByRole('heading', { name }).waitFor()
    await page.getByRole('searchbox').fill('nothing like it')
    await page.getByText('Nothing matches.').waitFor()
    await expectSound(window)
  })

  it.each(['ladders', 'records/printer', 'records/setting', 'more', 'phone', 'data', 'help', 'help/light', 'plan'])(
    'shows #/%s without violations or sideways scroll',
    async (path) => {
      const window = await workshop.open(kind)
      await window.page.goto(`${workshop.url}/#/${path}`)
      await window.page.getByRole('heading', { level: 1 }).waitFor()
      await window.page.waitForLoadState('networkidle')
      await expectSound(window)
    },
  )
})

it('leaves a coupon out of the answer for a reason, and takes it in again', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  await page.getByText('Leave this coupon out of the answer').click()
  await page.getByLabel('Why').fill('ink smeared')
  await page.getByRole('button', { name: 'Leave it out' }).click()
  await page.getByText('One coupon is left out of this answer.').waitFor()
  await page.getByText('Left out of the answer: ink smeared.').waitFor()
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor({ state: 'detached' })
  await page.locator('.chart svg').nth(3).waitFor()
  await expectSound(window)
  await page.getByRole('button', { name: 'Take it in again' }).click()
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
})

it('saves a chart as picture and as table', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  await waitForCharts(window, 4)
  const group = page.getByRole('group', { name: /^Save as: growth/ })
  const saved = async (format: string) => {
    const waiting = page.waitForEvent('download')
    await group.getByRole('button', { name: format }).click()
    const download = await waiting
    expect(download.suggestedFilename()).toBe(`growth-${answered.design.ladderId}.${format.toLowerCase()}`)
    return readFileSync(await download.path())
  }
  const svg = (await saved('SVG')).toString()
  expect(svg).toContain('<svg')
  expect(svg).not.toContain('var(')
  expect((await saved('PNG')).subarray(1, 4).toString()).toBe('PNG')
  const rungs = answered.rungs.filter((rung) => 'growthUm' in rung)
  expect((await saved('CSV')).toString().trim().split('\r\n')).toHaveLength(rungs.length + 1)
})

it('takes everything out and in again', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  await page.goto(`${workshop.url}/#/data`)
  const waiting = page.waitForEvent('download')
  await page.getByRole('link', { name: 'Export everything (ZIP)' }).click()
  const file = await (await waiting).path()
  await page.getByLabel('Choose an exported file').setInputFiles(file)
  await page.getByText('Added: 0 records, 0 ladders, 0 photos, 0 readings.').waitFor()
  await page
    .getByLabel('Choose an exported file')
    .setInputFiles({ name: 'x.zip', mimeType: 'application/zip', buffer: Buffer.from('no') })
  await page.getByText('The file is not a zip archive.').waitFor()
})

it('speaks German where the browser asks for it, and English again on demand', async () => {
  const window = await workshop.open('light phone', { locale: 'de-DE' })
  const { page } = window
  await page.getByRole('heading', { level: 1, name: 'Was nun?' }).waitFor()
  expect(await page.locator('html').getAttribute('lang')).toBe('de')
  await expectSound(window)
  await page.goto(`${workshop.url}/#/more`)
  await page.getByLabel('English').check()
  await page.getByRole('heading', { level: 1, name: 'More' }).waitFor()
})

it('keeps buttons and links large enough for gloves on a phone', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  for (const path of ['', 'ladders', 'records/bottle', 'more', 'print']) {
    await page.goto(`${workshop.url}/#/${path}`)
    await page.getByRole('heading', { level: 1 }).waitFor()
    await page.waitForLoadState('networkidle')
    const small = await page.evaluate(() =>
      [
        ...document.querySelectorAll(
          'button, .button, nav a, .entry, .choice, main .aside, select, main input:not([type=radio], [type=checkbox], .file)',
        ),
      ]
        .filter((element) => element.getClientRects().length > 0)
        .filter((element) => element.getBoundingClientRect().height < 48)
        .map((element) => `${element.tagName} ${element.textContent}`),
    )
    expect(small).toEqual([])
  }
})
