import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { answered } from '../support/reading-fixture.js'
import { expectSound, openWorkshop, type Opened } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

type Place = readonly [x: number, y: number]

async function openPhoto(kind: 'light phone' | 'dark desktop') {
  const window = await workshop.open(kind)
  await workshop.upload(window, () => answered)
  await window.page.getByRole('heading', { name: 'Coupon 3, 2.1 s' }).waitFor()
  const photo = window.page.getByRole('img', { name: 'Photo of the card with its coupons outlined' })
  await photo.scrollIntoViewIfNeeded()
  return { window, page: window.page, photo }
}

/** What is seen, in the photo's pixels: left, top, width, height. */
const seen = async (photo: Locator) => (await photo.getAttribute('viewBox'))!.split(' ').map(Number)

/** The photo's pixel at a place of the screen. */
const pixelAt = (photo: Locator, [x, y]: Place) =>
  photo.evaluate(
    (svg, place) => {
      const { x, y } = new DOMPoint(...place).matrixTransform(
        (svg as unknown as SVGSVGElement).getScreenCTM()!.inverse(),
      )
      return [x, y]
    },
    [x, y] as [number, number],
  )

async function middleOf(thing: Locator): Promise<Place> {
  const box = await thing.boundingBox()
  if (!box) throw new Error('it is not on the page')
  return [box.x + box.width / 2, box.y + box.height / 2]
}

/** Fingers put down and moved together from one set of places to another. */
async function moveFingers({ page }: Opened, from: readonly Place[], to: readonly Place[]) {
  const touch = await page.context().newCDPSession(page)
  const points = (share: number) =>
    from.map(([x, y], id) => ({ id, x: x + share * (to[id]![0] - x), y: y + share * (to[id]![1] - y) }))
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points(0) })
  for (let i = 1; i <= 5; i++)
    await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(i / 5) })
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
}

/** The middle of a grating of the first coupon that is in view. */
async function otherGrating(page: Page, photo: Locator): Promise<Place> {
  const view = (await photo.boundingBox())!
  for (const feature of (await page.locator('.overview .fine .casing').all()).slice(0, 6)) {
    const [x, y] = await middleOf(feature)
    if (x > view.x && y > view.y && x < view.x + view.width && y < view.y + view.height) return [x, y]
  }
  throw new Error('no grating is in view')
}

it('enlarges by two fingers where they are, moves by one, and a tap on a grating shows it', async () => {
  const { window, page, photo } = await openPhoto('light phone')
  const whole = await seen(photo)
  const [x, y] = await middleOf(page.locator('.overview .casing').first())
  const before = await pixelAt(photo, [x, y])
  await moveFingers(
    window,
    [
      [x - 20, y],
      [x + 20, y],
    ],
    [
      [x - 80, y],
      [x + 80, y],
    ],
  )
  // Four times as far apart; the first movement of a touch may go to the browser.
  await expect.poll(async () => whole[2]! / (await seen(photo))[2]!).toBeGreaterThan(2.5)
  const after = await pixelAt(photo, [x, y])
  expect(Math.hypot(after[0]! - before[0]!, after[1]! - before[1]!)).toBeLessThan(whole[2]! / 60)

  const [left] = await seen(photo)
  const scrolled = await page.evaluate('scrollY')
  await moveFingers(window, [[x, y]], [[x - 60, y]])
  await expect.poll(async () => (await seen(photo))[0]).toBeGreaterThan(left!)
  expect(await page.evaluate('scrollY')).toBe(scrolled)
  await moveFingers(window, [[x - 60, y]], [[x, y]])

  await page.touchscreen.tap(...(await otherGrating(page, photo)))
  await page.getByRole('heading', { name: 'Coupon 1, 1.4 s' }).waitFor()
  await page.getByRole('img', { name: 'Light across the grating and the fitted edges' }).waitFor()
  await expectSound(window)
})

it('leaves one finger on the whole photo to the page', async () => {
  const { window, page, photo } = await openPhoto('light phone')
  const whole = await seen(photo)
  const scrolled = Number(await page.evaluate('scrollY'))
  const [x, y] = await middleOf(photo)
  await moveFingers(window, [[x, y]], [[x, y - 150]])
  await expect.poll(() => page.evaluate('scrollY')).toBeGreaterThan(scrolled)
  expect(await seen(photo)).toEqual(whole)
})

it('enlarges by Ctrl and the wheel, is dragged by the mouse without choosing, and shows the whole again', async () => {
  const { window, page, photo } = await openPhoto('dark desktop')
  const whole = await seen(photo)
  const place = await middleOf(page.locator('.overview .casing').first())
  await page.mouse.move(...place)
  await page.mouse.wheel(0, -100)
  expect(await seen(photo)).toEqual(whole)
  await photo.scrollIntoViewIfNeeded()
  const over = await middleOf(page.locator('.overview .casing').first())
  await page.mouse.move(...over)
  await page.keyboard.down('Control')
  await page.mouse.wheel(0, -400)
  await page.keyboard.up('Control')
  await expect.poll(async () => whole[2]! / (await seen(photo))[2]!).toBeGreaterThan(3)

  const [left] = await seen(photo)
  await page.mouse.down()
  await page.mouse.move(over[0] - 30, over[1], { steps: 4 })
  await page.mouse.up()
  expect((await seen(photo))[0]).toBeGreaterThan(left!)
  await page.getByRole('heading', { name: 'Coupon 3, 2.1 s' }).waitFor()
  await page.mouse.click(...(await otherGrating(page, photo)))
  await page.getByRole('heading', { name: 'Coupon 1, 1.4 s' }).waitFor()

  await page.locator('.zoom', { has: photo }).getByRole('button', { name: 'Whole picture' }).click()
  expect(await seen(photo)).toEqual(whole)
  await expectSound(window)
})

it('is enlarged and moved by keys and buttons alone, within the photo', async () => {
  const { page, photo } = await openPhoto('dark desktop')
  const whole = await seen(photo)
  const frame = page.getByRole('group', { name: /^Photo to enlarge/ }).first()
  await frame.focus()
  await page.keyboard.press('+')
  await page.keyboard.press('+')
  expect(whole[2]! / (await seen(photo))[2]!).toBeCloseTo(1.6 ** 2, 5)
  // The coupon that is chosen comes to the middle.
  const middle = await middleOf(photo)
  const coupon = await middleOf(page.locator('.overview .chosen .casing').first())
  expect(Math.hypot(coupon[0] - middle[0], coupon[1] - middle[1])).toBeLessThan(10)
  const scrolled = await page.evaluate('scrollY')
  for (let i = 0; i < 20; i++) await page.keyboard.press('ArrowRight')
  for (let i = 0; i < 20; i++) await page.keyboard.press('ArrowDown')
  const [x, y, width, height] = (await seen(photo)) as [number, number, number, number]
  expect([x + width, y + height]).toEqual([whole[2], whole[3]])
  expect(await page.evaluate('scrollY')).toBe(scrolled)
  await page.keyboard.press('0')
  expect(await seen(photo)).toEqual(whole)

  await page.keyboard.press('Tab')
  for (let i = 0; i < 20; i++) await page.keyboard.press('Enter')
  expect(whole[2]! / (await seen(photo))[2]!).toBe(16)
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  expect(whole[2]! / (await seen(photo))[2]!).toBeCloseTo(10, 5)
})
