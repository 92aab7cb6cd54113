import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ladderLayout } from '../../analysis/index.js'
import type { LadderEntry } from '../../server/api/ladders.js'
import { drawPhoto } from '../support/drawn-photo.js'
import { expectSound, openWorkshop, type Opened } from './workshop.js'

// The whole way of a ladder through the built page, the real store and the real reader. Its photograph is drawn.

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop({ realReader: true })
})
afterAll(() => workshop.close())

const exposuresS = [1.8, 2.1, 2.5, 2.9, 3.4]
/** Where the drawn coupons have no growth. */
const TO_SIZE_S = 2.5

/** A drawn photograph of the ladder that the page has just made. */
async function photographOf(ladderId: string) {
  const layout = ladderLayout({ ladderId, layerHeightUm: 50, pixelPitchUm: 34, exposuresS })
  const slots = Object.fromEntries(exposuresS.map((s, i) => [i + 1, { growthUm: 45 * Math.log(s / TO_SIZE_S) }]))
  const resolution = { width: 3024, height: 2268 }
  const { file } = await drawPhoto({ layout, resolution, slots, camera: { distanceMm: 400, tiltDeg: 4 } })
  return { name: `bench-${ladderId}.jpg`, mimeType: 'image/jpeg', buffer: Buffer.from(file) }
}

const go = ({ page }: Opened, name: string) => page.getByRole('navigation', { name: 'Pages' }).getByText(name).click()

async function addRecord(window: Opened, kind: string, one: string, fields: Record<string, string>): Promise<void> {
  const { page } = window
  await go(window, 'More')
  await page.getByRole('link', { name: kind, exact: true }).click()
  await page.getByRole('button', { name: `Add a ${one}` }).click()
  for (const [label, value] of Object.entries(fields)) await page.getByLabel(label, { exact: true }).fill(value)
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByRole('heading', { name: fields['Name']! }).waitFor()
}

describe.each(['light phone', 'dark desktop'] as const)('on a %s', (kind) => {
  it('leads from an empty shelf to an accepted setting and the next ladder', async () => {
    const window = await workshop.open(kind)
    const { page } = window
    const names = { bottle: `Bottle of the ${kind}`, printer: `Printer of the ${kind}` }
    await addRecord(window, 'Printers', 'printer', {
      Name: names.printer,
      'Mask pixel, µm': '34',
      'Time step, s': '0.1',
    })
    await addRecord(window, 'Bottles', 'bottle', { Name: names.bottle, Batch: 'B-7', 'Remaining, ml': '500' })
    await expectSound(window)

    await go(window, 'Now')
    await page.getByRole('link', { name: 'New ladder' }).click()
    await page.getByLabel('Bottle').selectOption(names.bottle)
    await page.getByLabel('Printer').selectOption(names.printer)
    expect(await page.getByLabel('Mask pixel').inputValue()).toBe('34')
    await page.getByLabel('Layer height').fill('0.05')
    await page.getByLabel('My own list').check()
    await page.getByLabel('Exposures in s').fill(exposuresS.join(' '))
    await page.getByRole('button', { name: 'Make the ladder' }).click()

    await page.waitForURL(/#\/ladder\//)
    const ladderId = page.url().split('/').at(-1)!
    await page.getByRole('link', { name: 'Card (PDF)' }).waitFor()
    await page
      .getByText(/^Rung \d: .* min$/)
      .first()
      .waitFor()
    expect(await page.getByText(/^Rung \d: .* min$/).count()).toBe(exposuresS.length)
    await page.getByText('Never look into the curing light').first().waitFor()
    await expectSound(window)
    const kit = await page.getByRole('link', { name: 'Everything (ZIP)' }).getAttribute('href')
    expect((await fetch(workshop.url + kit)).headers.get('content-type')).toBe('application/zip')

    await page.getByLabel('All coupons lie on the card').check()
    await page.getByText('3. Photograph').waitFor()
    await expect.poll(() => page.getByLabel('Choose a photo').count()).toBe(1)

    // Not from the ladder's page: the code on the card says which ladder it is.
    await go(window, 'Now')
    await page.getByLabel('Choose a photo').setInputFiles(await photographOf(ladderId))
    await page.waitForURL(/#\/reading\//)
    await page.getByText(/^95 % interval/).waitFor({ timeout: 120_000 })
    await page.locator('.chart svg').nth(3).waitFor()

    await page.getByRole('heading', { level: 1 }).getByRole('link').click()
    const accept = page.getByRole('button', { name: /^Accept .* s as setting/ })
    const exposureS = Number(/Accept (\S+) s/.exec((await accept.textContent()) ?? '')?.[1])
    // The drawn coupons grow by 45 um per ln(exposure); a tenth of a second is the printer's step.
    expect(Math.abs(exposureS - TO_SIZE_S)).toBeLessThan(0.11)
    await accept.click()
    await page.getByText('Accepted.').waitFor()
    await expectSound(window)

    const entry = (await (await fetch(`${workshop.url}/api/ladders/${ladderId}`)).json()) as LadderEntry
    expect(entry).toMatchObject({ next: 'done', origin: 'planned', ...names })
    await go(window, 'Now')
    const settings = page.getByRole('region', { name: 'Latest settings' })
    await settings.getByText(`Ladder ${ladderId}`).waitFor()

    await settings.getByText(`Ladder ${ladderId}`).click()
    await page.getByRole('link', { name: 'Print this ladder' }).click()
    expect((await page.getByLabel('Exposures in s').inputValue()).split(' ').length).toBeGreaterThan(1)
    // What was said of the last ladder is remembered.
    const bottle = page.getByLabel('Bottle').locator('option:checked')
    await expect.poll(() => bottle.textContent()).toBe(names.bottle)
    expect(window.errors).toEqual([])
  })
})
