import { afterAll, beforeAll, expect, it } from 'vitest'
import { answered } from '../support/reading-fixture.js'
import { expectSound, openWorkshop, waitForCharts } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

// The same coupons with other noise: readings alike to the last digit would have no scatter at all.
const other = {
  ...answered,
  design: { ...answered.design, ladderId: 'K7Q2XP' },
  rungs: answered.rungs.map((rung, i) =>
    'growthUm' in rung && rung.haze
      ? { ...rung, haze: { ...rung.haze, value: rung.haze.value + [0.003, -0.002, 0.001, -0.003][i % 4]! } }
      : rung,
  ),
}

it.each(['light phone', 'dark desktop'] as const)('compares two bottles on a %s', async (kind) => {
  const window = await workshop.open(kind)
  const { page } = window
  for (const reading of [answered, other]) {
    await page.goto(`${workshop.url}/#/`)
    await workshop.upload(window, () => reading)
    await page.getByRole('heading', { level: 1 }).waitFor()
    await page.locator('.chart svg').first().waitFor()
  }
  await page.getByRole('navigation').getByRole('link', { name: 'Compare' }).click()
  const boxes = page.getByRole('checkbox')
  await boxes.first().waitFor()
  await boxes.nth(0).check()
  await boxes.nth(1).check()
  await page.getByLabel(`bottle of ladder ${answered.design.ladderId}`).fill('A')
  await page.getByLabel('bottle of ladder K7Q2XP').fill('B')
  await page.getByRole('button', { name: 'Compare' }).click()
  await waitForCharts(window, 1)
  expect(await page.getByRole('table', { name: 'Differences' }).innerText()).toMatch(/B/)
  await page.getByText('no difference that this many coupons could show').waitFor()
  await expectSound(window)
})
