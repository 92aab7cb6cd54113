import { statSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { LadderReading } from '../../analysis/result.js'
import { answered, refused, unbracketed, windowDetail } from '../support/reading-fixture.js'
import { expectSound, openWorkshop, waitForCharts } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

describe.each(['light phone', 'dark desktop'] as const)(
  'without errors, violations or sideways scroll on a %s',
  (kind) => {
    it('starts', async () => {
      const window = await workshop.open(kind)
      await window.page.getByRole('heading', { level: 1 }).waitFor()
      await window.page.getByRole('heading', { name: 'Earlier readings' }).waitFor()
      await expectSound(window)
    })

    it('shows an answer', async () => {
      const window = await workshop.open(kind)
      await workshop.upload(window, () => answered)
      await waitForCharts(window, 4)
      for (const summary of await window.page.locator('summary').all()) await summary.click()
      await waitForCharts(window, 8)
      await expectSound(window)
    })

    it('shows a ladder without an answer', async () => {
      const window = await workshop.open(kind)
      await workshop.upload(window, () => unbracketed)
      await waitForCharts(window, 4)
      await expectSound(window)
    })

    it('shows a refusal', async () => {
      const window = await workshop.open(kind)
      await workshop.upload(window, () => refused)
      await window.page.getByRole('heading', { name: 'This photo cannot be read' }).waitFor()
      await expectSound(window)
    })

    it('shows the print form and a ladder', async () => {
      const window = await workshop.open(kind)
      const { page } = window
      await page.getByRole('link', { name: 'New ladder' }).click()
      await page.getByLabel('Mask pixel').fill('34')
      await page.getByLabel('Lowest').fill('1.4')
      await page.getByLabel('Highest').fill('4')
      await page.getByRole('button', { name: 'Make the ladder' }).click()
      await page.getByRole('link', { name: 'Card (PDF)' }).waitFor()
      await expectSound(window)
    })
  },
)

it('follows the stages of a reading, and finds it again after a reload', async () => {
  let finish: (result: LadderReading) => void = () => undefined
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, (_options, onStage) => {
    onStage({ stage: 'coupons', share: 0.46 })
    return new Promise((resolve) => {
      finish = resolve
    })
  })
  const status = page.getByRole('status')
  const now = () => status.textContent()
  await expect.poll(now).toBe('Measure the coupons')
  expect(await page.getByRole('progressbar').getAttribute('value')).toBe('0.46')
  await expectSound(window)

  await page.reload()
  await expect.poll(now).toBe('Measure the coupons')
  finish(answered)
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
})

// 320 px is the width that WCAG 2.2, 1.4.10 (reflow), asks for; the others are tablets.
it.each([320, 600, 768, 1024])('shows an answer %i px wide without sideways scroll', async (width) => {
  const window = await workshop.open()
  const { page } = window
  await page.setViewportSize({ width, height: 800 })
  await workshop.upload(window, () => answered)
  await waitForCharts(window, 4)
  expect(await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBe(0)
})

it('says the answer first: exposure, interval, usable range, how sure, what limits it', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  const answer = page.getByRole('region', { name: 'Layer exposure' })
  await answer.waitFor()
  const words = (await answer.innerText()).replace(/\s+/g, ' ')
  expect(words).toContain('2.3 s 95 % interval 2.16 to 2.56 s')
  expect(words).toContain('Five rungs on both sides of zero growth')
  expect(words).toContain('1.6 to 3.45 s keeps growth within ±20 µm per side; surely so from 1.76 to 3.12 s (95 %)')
  expect(words).toContain('What limits it The ink in the grooves')
  expect(words).toContain('2.35 s (95 %: 2.16 to 2.56 s), where growth is zero')
  await page.getByRole('region', { name: 'Please note' }).getByText('Card stretched.').waitFor()
})

it('draws growth with a point and a bar for each rung read, and says the same in words', async () => {
  const window = await workshop.open()
  await workshop.upload(window, () => answered)
  await waitForCharts(window, 4)
  const chart = window.page.getByRole('img', { name: /^Growth per side against layer exposure/ })
  // Five rungs were read; the sixth sign is the diamond of dose-to-size.
  expect(await chart.locator('circle').count()).toBe(5)
  expect(await chart.getAttribute('aria-label')).toContain('2.1 s: −4.9\u00a0±\u00a08.4 µm')
})

it('shows a coupon chosen on the photo, and a feature chosen on the coupon', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByRole('heading', { name: 'Coupon 3, 2.1 s' }).waitFor()

  // A tap in the middle of the first coupon's outline.
  const outlines = page.locator('.overview')
  const first = outlines.locator('.casing').first()
  await first.scrollIntoViewIfNeeded()
  const box = await first.boundingBox()
  if (!box) throw new Error('the first coupon has no outline on the page')
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2)
  await page.getByRole('heading', { name: 'Coupon 1, 1.4 s' }).waitFor()

  await page.getByRole('button', { name: 'Gap of 1.2 mm across the layers: open' }).click()
  const facts = page.locator('.feature')
  await expect.poll(() => facts.innerText()).toContain('Measured width')
  // 1200 um less the fixture's print-through at 1.4 s, 310 + 140 ln 1.4 = 357 um; U = 2 x 12 um.
  expect(await facts.innerText()).toContain('843\u00a0±\u00a024\u00a0µm')

  await page
    .getByRole('button', { name: /^Grating/ })
    .first()
    .click()
  for (const name of [
    'Light across the grating and the fitted edges',
    /^Measured less fitted; rms [\d.]+ % of the paper/,
  ])
    await expect.poll(() => page.getByRole('img', { name }).locator('path').count()).toBeGreaterThan(2)
})

it('shows what a window shows: score with its formula, surface, contrast, yellowness, bubbles', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  const rungs = answered.rungs.map((rung) => ('growthUm' in rung ? { ...rung, window: windowDetail } : rung))
  await workshop.upload(window, () => ({ ...answered, rungs }))
  await page.getByRole('heading', { name: 'Coupon 3, 2.1 s' }).waitFor()
  await page.getByRole('button', { name: 'Window' }).click()
  const facts = page.locator('.feature').filter({ hasText: 'Clarity score' })
  await facts.waitFor()
  const text = await facts.innerText()
  // Of the fixture: 84.8 with U = 2 x 1.4, surface 0.23 with U = 2 x 0.02.
  for (const part of [
    '84.8\u00a0±\u00a02.8',
    '0.230\u00a0±\u00a00.040',
    'Score = made up.',
    'bubble: 0.5\u00a0% of it',
    'not ASTM',
  ])
    expect(text).toContain(part)
})

it('shows on demand what a reading rests on: checks, tone, pose, budget', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByText('Quality checks of the photo4 of 5 passed').click()
  const overshoot = page.getByRole('row', { name: /Bright rim beside black edges/ })
  expect(await overshoot.innerText()).toMatch(/0\.041\s+0\.012\s+beyond the limit/)
  await page.getByText('amount 0.62, radius 1.4 px').waitFor()

  await page.getByText('Tone curve of the camera, spread of the ink').click()
  await waitForCharts(window, 5)
  const tone = page.getByRole('img', { name: /^Code value against light/ })
  expect(await tone.locator('circle').count()).toBe(answered.tone.patches.length)

  await page.getByText('Discs of the card against the fitted camera').click()
  await waitForCharts(window, 6)
  const map = page.getByRole('img', { name: /^Map of the card with an arrow at each disc/ })
  // The longest arrow of the fixture, 10.7 um, becomes 14 mm at most: 1000 times.
  expect(await map.getAttribute('aria-label')).toContain('arrows drawn 1000 times')
  expect(await map.locator('circle').count()).toBe(answered.card.residuals.length)

  await page.getByText('Where the uncertainty of the growth comes from').click()
  expect(await page.getByRole('row', { name: /^Of the growth itself/ }).innerText()).toContain('4.2')
})

it('leads from a rung that was refused to its reason', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => answered)
  await page.getByRole('button', { name: 'Show rung 6 on the photo' }).click()
  await page.getByRole('heading', { name: 'Coupon 6, 4 s' }).waitFor()
  expect(await page.locator('.coupon').innerText()).toContain('Glare. A lamp is mirrored in this coupon')
})

it('fills the print form with the ladder to print next', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  await workshop.upload(window, () => unbracketed)
  await page.getByText('Every rung printed too big').waitFor()
  await page.getByRole('link', { name: 'Print this ladder' }).click()
  expect(await page.getByLabel('Exposures in s').inputValue()).toBe('1.2 1.5 1.8 2.2')
  expect(await page.getByLabel('Layer height').inputValue()).toBe('0.05')
  expect(await page.getByLabel('Mask pixel').inputValue()).toBe('34')

  await page.getByRole('button', { name: 'Make the ladder' }).click()
  const card = await page.getByRole('link', { name: 'Card (PDF)' }).getAttribute('href')
  expect(card).toContain('exposuresS=1.2&exposuresS=1.5&exposuresS=1.8&exposuresS=2.2&paper=a4')
  const file = await fetch(workshop.url + card)
  expect(file.headers.get('content-type')).toBe('application/pdf')
})

it('reads the photo again with another tolerance', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, ({ toleranceUm = 20 }) => ({
    ...answered,
    usableRange: {
      toleranceUm,
      rangeS: [2, 2.8],
      reachesEnd: { low: false, high: true },
      latitudeRatio: 1.4,
      latitudePercent: 33,
    },
  }))
  await page.getByText('keeps growth within ±20 µm').waitFor()
  const before = page.url()
  await page.getByText('Change the tolerance').click()
  await page.getByLabel('Growth allowed per side').fill('35')
  await page.getByRole('button', { name: 'Read again with these' }).click()
  await page.getByText('keeps growth within ±35 µm').waitFor()
  expect(page.url()).not.toBe(before)
})

it('takes caliper readings and keeps them when another wish changes', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  const asked: unknown[] = []
  await workshop.upload(window, (options) => {
    asked.push(options)
    return answered
  })
  await page.getByText('Anchor it with a caliper').click()
  await page.getByLabel('Leg of coupon 2 (1.7 s), mm').fill('4.02')
  await expectSound(window)
  await page.getByRole('button', { name: 'Use these readings' }).click()
  await expect.poll(() => asked.length).toBe(2)
  expect(asked[1]).toMatchObject({ caliperMm: [{ slot: 2, widthMm: 4.02 }] })
  await page.getByText('Change the tolerance').click()
  await page.getByLabel('Growth allowed per side').fill('35')
  await page.getByRole('button', { name: 'Read again with these' }).click()
  await expect.poll(() => asked.length).toBe(3)
  expect(asked[2]).toMatchObject({ toleranceUm: 35, caliperMm: [{ slot: 2, widthMm: 4.02 }] })
})

it('puts the photos of one ladder together and leaves out the one that is unticked', async () => {
  const window = await workshop.open('light phone')
  const { page } = window
  const design = { ...answered.design, ladderId: 'TWICE1' }
  for (const name of ['first', 'second']) {
    await page.goto(workshop.url)
    await workshop.upload(window, () => ({ ...answered, design, warnings: [{ code: name, advice: 'Look twice.' }] }))
    await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  }
  await page.getByText('The 2 photos of this ladder together').click()
  await page.getByText('µm per side, 2 photos').first().waitFor()
  await expectSound(window)
  await page.getByRole('checkbox').first().uncheck()
  await page.getByText('µm per side, one photo').first().waitFor()
  expect(await page.getByText('µm per side, 2 photos').count()).toBe(0)
})

it('keeps readings with their answers, newest first', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => refused)
  await page.getByRole('heading', { name: 'This photo cannot be read' }).waitFor()
  await page.getByRole('link', { name: 'Stepglass' }).click()
  const newest = page.getByRole('region', { name: 'Earlier readings' }).locator('.entry').first()
  await newest.waitFor()
  expect(await newest.innerText()).toContain('Photo refused')
  await newest.click()
  await page.getByText('Step back until all black discs').waitFor()
})

it('offers to read a photo again when the reader broke off', async () => {
  const window = await workshop.open()
  const { page } = window
  await workshop.upload(window, () => Promise.reject(new Error('broken on purpose')))
  await page.getByRole('heading', { name: 'The reading stopped' }).waitFor()
  workshop.reader.read = () => answered
  await page.getByRole('button', { name: 'Read the photo again' }).click()
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
})

it('takes a photo that is dropped or pasted anywhere on the page', async () => {
  workshop.reader.read = () => answered
  for (const kind of ['drop', 'paste'] as const) {
    const window = await workshop.open()
    const { page } = window
    const bytes = workshop.freshPhoto().buffer.toString('base64')
    await page.getByText('or drop one here, or paste it').waitFor()
    await page.evaluate(
      ({ kind, bytes }) => {
        const data = new DataTransfer()
        const content = Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0))
        data.items.add(new File([content], 'ladder.jpg', { type: 'image/jpeg' }))
        const options = { bubbles: true, cancelable: true }
        document.body.dispatchEvent(
          kind === 'drop'
            ? new DragEvent('drop', { ...options, dataTransfer: data })
            : new ClipboardEvent('paste', { ...options, clipboardData: data }),
        )
      },
      { kind, bytes },
    )
    await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  }
})

it('refuses a file that is no picture before sending it', async () => {
  const { page } = await workshop.open()
  await page
    .getByLabel('Choose a photo')
    .setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no') })
  expect(await page.getByRole('alert').innerText()).toContain('That is not a picture')
})

it('keeps a photo on the device while the service is gone', async () => {
  const { page } = await workshop.open()
  await page.route('**/api/photos', (route) => route.abort())
  await page.getByLabel('Choose a photo').setInputFiles(workshop.freshPhoto())
  await page
    .getByText('The service cannot take it at the moment. The photo is kept on this device and sent by itself.')
    .waitFor()
})

it('reaches photo, navigation, features and options with the keyboard alone', async () => {
  const window = await workshop.open()
  const { page } = window
  const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '')
  const tabUntil = async (text: string) => {
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press('Tab')
      if ((await focused()) === text) return
    }
    throw new Error(`the keyboard does not reach "${text}"`)
  }
  await page.keyboard.press('Tab')
  expect(await focused()).toBe('Skip to the content')
  await tabUntil('Ladders')
  await tabUntil('Plan')
  await tabUntil('Compare')
  await tabUntil('More')
  await page.keyboard.press('Tab')
  // A file input has no text; its label is what one sees focused.
  expect(await page.evaluate(() => document.activeElement?.closest('label')?.textContent)).toBe('Choose a photo')

  await workshop.upload(window, () => answered)
  await page.getByText('95 % interval 2.16').waitFor()
  await tabUntil('Change the tolerance')
  await tabUntil('4: 2.6 s')
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Coupon 4, 2.6 s' }).waitFor()
  await tabUntil('Where the uncertainty of the growth comes from')
})

it('asks for no style or script but its own files, so that a strict content policy holds', async () => {
  const window = await workshop.open()
  const { page, errors } = window
  await page.route('**/*', async (route) => {
    const response = await route.fetch()
    const policy = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'"
    await route.fulfill({ response, headers: { ...response.headers(), 'content-security-policy': policy } })
  })
  await page.reload()
  await workshop.upload(window, () => answered)
  await waitForCharts(window, 4)
  expect(errors).toEqual([])
})

it('starts with little script: drawing library and planning come once they are wanted', async () => {
  const window = await workshop.open()
  const { page } = window
  const scripts: string[] = []
  const headers: Record<string, string>[] = []
  let sizeB = 0
  page.on('response', (response) => {
    const { pathname } = new URL(response.url())
    if (!pathname.endsWith('.js')) return
    scripts.push(pathname)
    headers.push(response.headers())
    sizeB += statSync(join('dist/web', pathname)).size
  })
  await page.reload()
  await page.getByRole('heading', { name: 'Earlier readings' }).waitFor()
  // The drawing library alone has 250 kB.
  expect(sizeB).toBeGreaterThan(20_000)
  expect(sizeB).toBeLessThan(75_000)
  // What the page itself names is fetched at once, where a script's own imports would wait for it.
  expect(scripts).toHaveLength(3)
  const head = await page.evaluate(() => document.head.innerHTML)
  for (const script of scripts) expect(head).toContain(script)
  // Compressed they have a third of that, and keep for ever under their name.
  for (const one of headers)
    expect(one).toMatchObject({
      'content-encoding': 'gzip',
      'cache-control': expect.stringContaining('immutable') as string,
    })
  const first = scripts.length
  await workshop.upload(window, () => answered)
  await waitForCharts(window, 4)
  expect(scripts.length).toBeGreaterThan(first)
})
