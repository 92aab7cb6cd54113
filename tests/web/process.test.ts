import { afterAll, beforeAll, expect, it } from 'vitest'
import { sanded } from '../support/process-fixture.js'
import { expectSound, openWorkshop, waitForCharts } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

it.each(['light phone', 'dark desktop'] as const)('answers a ladder of grits on a %s', async (kind) => {
  const window = await workshop.open(kind)
  const { page } = window
  await workshop.upload(window, () => sanded)
  // Haze, yellowness, growth; what survived; the profile of a grating and its residuals.
  await waitForCharts(window, 5)
  await page.getByRole('heading', { name: 'Haze index against grit' }).waitFor()
  expect(await page.getByText('Anchor it with a caliper').count()).toBe(0)
  const answer = await page.getByRole('region', { name: 'The best level read' }).innerText()
  expect(answer).toContain('only a level beyond it can show whether more helps')

  // Within one photo the growth of a coupon is known to 2 x 1.3 um; 2 x 4.2 um is what shifts all coupons alike.
  const growth = page.getByRole('img', { name: /^Growth per side, µm against grit/ })
  expect(await growth.getAttribute('aria-label')).toContain('P400: −3.4\u00a0±\u00a02.6')
  const drawn = (mark: string, name: string) =>
    growth.locator(mark).evaluateAll((marks, name) => marks.map((one) => Number(one.getAttribute(name))), name)
  const bar = 'g[stroke-width="2"] line'
  const [lowPx, highPx] = [(await drawn(bar, 'y1'))[0]!, (await drawn(bar, 'y2'))[0]!]
  const [first, second] = await drawn('circle', 'cy')
  // The bar is 5.2 um long; the second coupon lies 0.4 um lower than the first.
  expect(Math.abs(lowPx - highPx) / (second! - first!)).toBeCloseTo(13, 3)
  await expectSound(window)
})
