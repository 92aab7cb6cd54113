import { afterAll, beforeAll, expect, it } from 'vitest'
import { expectSound, openWorkshop, waitForCharts, type Opened } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

async function openTool({ page }: Opened, title: string): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: 'Finish', exact: true }).click()
  await page.getByRole('link', { name: title }).click()
  await page.getByRole('heading', { level: 1, name: title }).waitFor()
}
const work = ({ page }: Opened) => page.getByRole('button', { name: 'Work it out' }).click()

it('plans a post-cure, draws it and starts its timer', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await openTool(window, 'Post-cure')
  await page.getByText('Never look into curing light').waitFor()
  await page.getByLabel('At the part').fill('40')
  await page.getByLabel('Radiant exposure').check()
  await page.getByLabel('J/cm² at each face').fill('12')
  await page.getByLabel('Thickness of the part').fill('6')
  await page.getByLabel('Hottest allowed').fill('45')
  await work(window)
  await waitForCharts(window, 3)
  const words = await page.locator('.tool-result').innerText()
  // 12 J/cm2 / 40 mW/cm2 = 300 s a face: five turns of a minute each side.
  expect(words).toContain('10 times 1:00 of light')
  expect(words).toContain('turn the part after each')
  expect(words).toContain('5:00 min, 12 J/cm² at 40 mW/cm²')
  await expectSound(window)

  await page.getByRole('button', { name: 'Start the timer' }).click()
  await page.getByRole('timer').waitFor()
  await page.getByRole('button', { name: 'Put it on the route' }).click()
  await page.getByText('It is on the route.').waitFor()
  await expectSound(window)
})

it('scales a time from another lamp', async () => {
  const window = await workshop.open()
  const { page } = window
  await openTool(window, 'Post-cure')
  await page.getByLabel('Only its power known').check()
  await page.getByLabel('Power, W').fill('70')
  await page.getByLabel('Minutes on each face').fill('5')
  await page.getByLabel('Power of that lamp').fill('40')
  await page.getByLabel('Thickness of the part').fill('6')
  await work(window)
  await waitForCharts(window, 3)
  // Common practice, no source: 5 min at 40 W are 2 min 51 s at 70 W.
  expect(await page.locator('.tool-result').innerText()).toContain('2:51')
})

it('keeps timers through a reload, runs several, and speaks at the end however long nobody looked', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  // A voice that writes down what it says; the browser under test has none.
  await page.addInitScript(() => {
    const spoken: string[] = []
    Object.assign(globalThis, { spoken })
    Object.defineProperty(globalThis, 'speechSynthesis', {
      value: { speak: ({ text }: { text: string }) => spoken.push(text) },
    })
  })
  await page.clock.install({ time: new Date('2026-02-01T10:00:00') })
  await page.goto(`${workshop.url}/#/finish/route`)
  await page.reload()
  await page.getByRole('button', { name: 'First bath: 3 min' }).waitFor()
  const left = () => page.getByRole('timer').first().innerText()
  await page.getByRole('button', { name: 'First bath: 3 min' }).click()
  await page.getByRole('button', { name: 'Part dries: 30 min' }).click()
  // The clock of the page runs on while the test clicks: seconds may pass, half a minute may not.
  await expect.poll(left).toMatch(/^(3:00|2:[345]\d)$/)
  expect(await page.getByRole('timer').count()).toBe(2)
  await page.clock.fastForward(60_000)
  await expect.poll(left).toMatch(/^(2:00|1:[345]\d)$/)
  await page.reload()
  await expect.poll(left).toMatch(/^(2:00|1:[345]\d)$/)

  // Two minutes asleep: no tick ran meanwhile.
  await page.clock.fastForward(120_000)
  await expect.poll(() => page.getByRole('timer').first().innerText()).toBe('Done')
  expect(await page.evaluate('spoken')).toEqual(['First bath: time is over'])
  await page.getByRole('button', { name: 'Remove: First bath' }).click()
  expect(await page.getByRole('timer').count()).toBe(1)
  await expectSound(window)
})

it('plans the grits, with the scale in each name and where to stop', async () => {
  const window = await workshop.open()
  const { page } = window
  await openTool(window, 'Smooth and coat')
  await work(window)
  await page.getByText('Stop after P 800.').waitFor()
  expect(await page.locator('tbody tr').count()).toBe(2)
  await expectSound(window)
  await page.getByLabel('Left bare').check()
  await work(window)
  await page.getByText('No sheet is fine enough').waitFor()
  expect(await page.locator('tbody').innerText()).toContain('JIS #8000')
})

it('fills in what the data sheet says, says so, and takes what is typed instead', async () => {
  const sheet = {
    ...{ name: 'Clear seven', fromC: 22, toC: 28, viscosityMPaS: 350, viscosityAtC: 25, standMin: 60, dryMin: 20 },
    ...{ washLiquid: 'Ethanol', washFlashC: 13, washMaxMin: 4, postCureMin: 5, postCureLampW: 40, postCureNm: 405 },
    ...{ postCureMaxC: 70, softensC: 62, refractiveIndex: 1.51 },
  }
  await workshop.app.inject({ method: 'POST', url: '/api/resins', headers: { host: 'localhost' }, payload: sheet })
  const window = await workshop.open('light phone')
  const { page } = window
  const FROM = 'from the data sheet you entered'
  const hintOf = async (label: string) => {
    const id = await page.getByLabel(label, { exact: true }).getAttribute('aria-describedby')
    return id === null ? undefined : page.locator(`[id="${id}"]`).innerText()
  }
  await openTool(window, 'Post-cure')
  await page.getByLabel('Resin', { exact: true }).selectOption({ label: 'Clear seven' })
  const limit = page.getByLabel('Hottest allowed, °C')
  // The lower of 70 and the 62 at which the part softens.
  await expect.poll(() => limit.inputValue()).toBe('62')
  expect(await hintOf('Hottest allowed, °C')).toBe(FROM)
  expect(await page.getByLabel('Minutes on each face').inputValue()).toBe('5')
  expect(await page.getByLabel('Power of that lamp, W').inputValue()).toBe('40')
  await page.getByText('asks for a lamp of 405 nm').waitFor()
  await limit.fill('50')
  expect(await hintOf('Hottest allowed, °C')).toBe('the data sheet you entered says 62')
  await page.getByLabel('Only its power known').check()
  await page.getByLabel('Power, W', { exact: true }).fill('70')
  await page.getByLabel('Thickness of the part').fill('6')
  await work(window)
  await waitForCharts(window, 3)
  const words = await page.locator('.tool-result').innerText()
  expect(words).toContain('limit 50 °C')
  expect(words).toMatch(/Guess depth at which 1\/e of the light is left in the cured resin: 1\.5 mm/)
  expect(words).toMatch(/Guess share of the lamp’s power that is light: 0\.3/)
  expect(words).not.toContain('hottest the part may get')

  await openTool(window, 'Prepare the resin')
  await expect.poll(() => page.getByLabel('Viscosity from the data sheet').inputValue()).toBe('350')
  await page.getByLabel('Resin as it is').fill('31')
  await work(window)
  await page.getByText('Resin hot.').waitFor()
  expect(await page.locator('.tool-result').innerText()).toContain(
    'Stand at least, by the data sheet you entered\n60 min',
  )
  await openTool(window, 'Smooth and coat')
  await expect.poll(() => page.getByLabel('Refractive index of the cured resin').inputValue()).toBe('1.51')

  await openTool(window, 'Route of a part')
  await page.getByText(`Resin and room at 22 to 28 °C (${FROM})`).waitFor()
  await page.getByText('Ethanol flashes at 13 °C').waitFor()
  await page.getByRole('button', { name: 'First bath: 2.4 min' }).waitFor()
  await page.getByLabel('Resin', { exact: true }).selectOption({ label: 'Any, what is usual' })
  await page.getByRole('button', { name: 'First bath: 3 min' }).waitFor()
  expect(await page.getByText(FROM).count()).toBe(0)
})

it('keeps what was ticked over a reload until the next part begins', async () => {
  const window = await workshop.open()
  const { page } = window
  await openTool(window, 'Route of a part')
  await page.getByLabel('Part', { exact: true }).fill('Cover')
  await page.getByLabel('Hollows rinsed').check()
  await page.getByText(/^1\sof\s\d+ done\.$/).waitFor()
  await page.reload()
  await page.getByText(/^1\sof\s\d+ done\.$/).waitFor()
  expect(await page.getByLabel('Hollows rinsed').isChecked()).toBe(true)
  await page.getByRole('button', { name: 'Begin the next part' }).click()
  await page.getByText(/^0\sof\s\d+ done\.$/).waitFor()
  expect(await page.getByLabel('Part', { exact: true }).inputValue()).toBe('')
})

it('speaks German throughout the route', async () => {
  const { page } = await workshop.open('light phone', { locale: 'de-DE' })
  await page.goto(`${workshop.url}/#/finish/route`)
  await page.getByRole('button', { name: 'Erstes Bad: 3 min' }).waitFor()
  await page.getByText('Nur nass schleifen').waitFor()
  const main = await page.getByRole('main').innerText()
  expect(main).not.toMatch(/\b(the|and|with|minutes|resin|part|never)\b/i)
})

it('tells how long cold resin stands', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await openTool(window, 'Prepare the resin')
  await page.getByLabel('Resin as it is').fill('15')
  await page.getByLabel('Viscosity from the data sheet').fill('400')
  await work(window)
  await page.getByText('Resin cold.').waitFor()
  await expectSound(window)
})

it('makes the traveller from the steps that were chosen', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await openTool(window, 'Route of a part')
  await page.getByLabel('Part', { exact: true }).fill('Cover')
  await page.getByLabel('Coat or dip: part of the route').uncheck()
  await expectSound(window)
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Make the page to print' }).click(),
  ])
  expect(download.suggestedFilename()).toBe('traveller.pdf')
  // What was typed is there again after a reload.
  await page.reload()
  await page.getByLabel('Part', { exact: true }).waitFor()
  expect(await page.getByLabel('Part', { exact: true }).inputValue()).toBe('Cover')
  await expect.poll(() => page.getByLabel('Coat or dip: part of the route').isChecked()).toBe(false)
})
