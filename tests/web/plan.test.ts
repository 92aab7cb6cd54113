import { afterAll, beforeAll, expect, it } from 'vitest'
import { answered } from '../support/reading-fixture.js'
import { expectSound, openWorkshop, waitForCharts, type Opened } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

async function openTool({ page }: Opened, title: string): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: 'Plan', exact: true }).click()
  await page.getByRole('link', { name: title }).click()
  await page.getByRole('heading', { level: 1, name: title }).waitFor()
}
const work = ({ page }: Opened) => page.getByRole('button', { name: 'Work it out' }).click()

it('shows what to expect of another exposure and layer height, by slider, keyboard and number', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('What if: another exposure or layer height').click()
  await page.getByText('2.3 s lies within the rungs').waitFor()
  await waitForCharts(window, 6)
  expect(await page.locator('.expected').count()).toBe(1)
  await expectSound(window)

  // The fixture's growth is 52 ln(t / 2.35) um: 0 at 2.35 s, and 1.1 um more with each step of 0.05 s.
  await page.getByLabel('Layer exposure, s, slider').press('ArrowRight')
  await page.getByText('2.35 s lies within the rungs').waitFor()
  await page.getByLabel('Layer exposure, s', { exact: true }).fill('9')
  await page.getByText('This is more light than the highest rung (3.2 s).').waitFor()
  expect(await page.locator('.expected').count()).toBe(0)
  await expectSound(window)

  await page.getByLabel('Layer exposure, s', { exact: true }).fill('1.5')
  await page.getByLabel('Layer height, mm', { exact: true }).fill('0.03')
  await page.getByText('Another layer height is always an extrapolation').waitFor()
  await page.getByText('at this ladder’s 0.05 mm').waitFor()
})

it('asks once when a slider rests, however often it moved', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('What if: another exposure or layer height').click()
  await page.getByText('2.3 s lies within the rungs').waitFor()
  let asked = 0
  page.on('request', (request) => (asked += request.url().includes('/expected?') ? 1 : 0))
  await page.getByLabel('Layer exposure, s, slider').evaluate((slider) => {
    for (let i = 0; i < 20; i++) {
      Object.assign(slider, { value: String(2 + i / 20) })
      slider.dispatchEvent(new Event('input', { bubbles: true }))
    }
  })
  await page.getByText('2.95 s lies within the rungs').waitFor()
  expect(asked).toBe(1)
})

it('plans a first ladder and fills the print form with it', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await openTool(window, 'First ladder')
  await page.getByLabel('An exposure that prints').check()
  await page.getByLabel('Exposure that prints, s').fill('2.4')
  await work(window)
  await page.getByRole('heading', { name: 'Print these exposures' }).waitFor()
  await expectSound(window)
  const list = (await page.locator('.next-list').innerText()).replace(/\s*s$/, '').split(', ')
  expect(list.length).toBeGreaterThan(3)
  expect(Number(list[0])).toBeLessThan(2.4)
  expect(Number(list.at(-1))).toBeGreaterThan(2.4)
  expect(await page.locator('tbody tr').count()).toBe(list.length)
  await page.getByRole('link', { name: 'Print this ladder' }).click()
  expect(await page.getByLabel('Exposures in s').inputValue()).toBe(list.join(' '))
})

it('carries a reading to another layer height', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('What if: another exposure or layer height').click()
  await page.getByRole('link', { name: 'Carry this to another layer height' }).click()
  await page.getByLabel('New layer height, mm').fill('0.03')
  await work(window)
  await page.getByRole('heading', { name: 'At 0.03 mm' }).waitFor()
  await expectSound(window)
  // The fixture's print-through has a slope of 140 um: its depth is known, and stands with its interval.
  expect(await page.locator('.tool-result').innerText()).toMatch(/Penetration depth used\s+140 µm/)
  await page.getByRole('link', { name: 'Print this ladder' }).click()
  expect(await page.getByLabel('Layer height').inputValue()).toBe('0.03')
})

it('fits a pasted working curve, draws it and points at what to look at', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await openTool(window, 'Working curve')
  // The worked curve of tests/reference/synthetic-working-curve.json, and a line without a point.
  const table =
    'dose\tdepth\n5\t37\n7\t71\n10\t118\n14\t152\n20\t205\n28\t241\n40\t298\n56\t327\n80\t385\n112\t420\nnone\tno'
  await page.getByLabel('Dose and cure depth').fill(table)
  await work(window)
  await waitForCharts(window, 1)
  await expectSound(window)
  const words = await page.locator('.tool-result').innerText()
  expect(words).toContain('3.92 mJ/cm² (95 %: 3.65 to 4.2)')
  expect(words).toContain('Line 2. Its dose is under 1.3 times Ec')
  expect(words).toContain('Line 12: no two numbers')
  expect(
    await page
      .getByRole('img', { name: /^Cure depth against dose/ })
      .locator('circle')
      .count(),
  ).toBe(9)

  await page.getByLabel('Dose and cure depth').fill('nothing to fit')
  await work(window)
  expect(await page.getByRole('alert').innerText()).toContain('Paste two columns')
  expect(await page.locator('.tool-result').count()).toBe(0)
})

it('carries a dose to another lamp, and says what is missing', async () => {
  const window = await workshop.open()
  const { page } = window
  await openTool(window, 'Lamp and dose')
  await page.getByLabel('Layer exposure, s').fill('2')
  await page.getByLabel('Irradiance it was found at').fill('3')
  await page.getByLabel('Irradiance now').fill('2')
  await page.getByLabel('95 % interval from').fill('1.9')
  await work(window)
  expect(await page.getByRole('alert').innerText()).toContain('Give both ends of the interval')
  await page.getByLabel('95 % interval to').fill('2.1')
  await work(window)
  await page.getByRole('heading', { name: 'Exposure now' }).waitFor()
  await expectSound(window)
  // 2 s x 3 mW/cm2 = 6 mJ/cm2 = 3 s x 2 mW/cm2
  const words = await page.locator('.tool-result').innerText()
  expect(words).toContain('3 s')
  expect(words).toMatch(/Dose\s+6\.00?/)
})

it('finds a planning tool by its address, and all of them on one page', async () => {
  const window = await workshop.open()
  const { page } = window
  await page.goto(`${workshop.url}/#/plan`)
  await page.getByRole('link', { name: 'Working curve' }).waitFor()
  expect(await page.locator('.tools a').count()).toBe(4)
  await expectSound(window)
})

it.each([
  {
    locale: 'en',
    typed: '2,5',
    labels: ['Layer exposure, s', 'Irradiance it was found at', 'Irradiance now'],
    said: '3.75 s',
  },
  {
    locale: 'de',
    typed: '2.5',
    labels: ['Schichtbelichtung, s', 'Bestrahlungsstärke, bei der', 'Bestrahlungsstärke jetzt'],
    said: '3,75 s',
  },
])('takes $typed for a number in $locale, and says at the field what is none or beyond its limits', async (one) => {
  const { page } = await workshop.open('light phone', { locale: one.locale })
  await page.goto(`${workshop.url}/#/plan/lamp`)
  const [exposure, before, now] = one.labels.map((label) => page.getByLabel(label).first())
  const faultOf = () => exposure!.evaluate((input: HTMLInputElement) => input.validationMessage)
  await exposure!.fill('much')
  expect(await faultOf()).toMatch(/2[.,]5/)
  await exposure!.fill('0')
  expect(await faultOf()).toMatch(/0[.,]0/)
  await exposure!.fill(one.typed)
  expect([await faultOf(), await exposure!.inputValue()]).toEqual(['', one.typed])
  await before!.fill('3')
  await now!.fill('2')
  await page.locator('main form button.main').click()
  await page.getByText(one.said).first().waitFor()
})
