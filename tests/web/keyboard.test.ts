import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { answered } from '../support/reading-fixture.js'
import { openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

interface Focused {
  /** What a screen reader says of it, nearly: its label or text. */
  readonly name: string
  /** Whether something of it, or of what stands for it, is framed and in view. */
  readonly visible: boolean
  /** True: nothing has the focus, so that the next Tab begins at the top again. */
  readonly lost: boolean
}

const focused = (page: Page): Promise<Focused> =>
  page.evaluate(() => {
    const at = document.activeElement as HTMLInputElement | null
    const name = at?.getAttribute('aria-label') ?? at?.labels?.[0]?.textContent ?? at?.textContent ?? ''
    // A file input is hidden below its label, which is framed instead.
    const shown = at?.closest('label.button') ?? at
    const { top, bottom, width } = shown?.getBoundingClientRect() ?? { top: 0, bottom: 0, width: 0 }
    const framed = shown !== null && getComputedStyle(shown).outlineStyle !== 'none'
    return {
      name: name.trim(),
      visible: framed && width > 0 && bottom > 0 && top < innerHeight,
      lost: at === null || at === document.body,
    }
  })

/** Tabs to what bears this name; all that is passed shows that it has the focus. */
async function tabTo(page: Page, name: string | RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const passed: string[] = []
  for (let i = 0; i < 90; i++) {
    await page.keyboard.press(key)
    const now = await focused(page)
    // The page scrolls to it.
    if (!now.lost)
      await expect
        .poll(async () => (await focused(page)).visible, { message: `the focus shows on ${now.name}` })
        .toBe(true)
    passed.push(now.name)
    if (typeof name === 'string' ? now.name === name : name.test(now.name)) return
  }
  throw new Error(`the keyboard does not reach ${name}, only ${passed.join(' | ')}`)
}

/** Presses a key after which something must still have the focus. */
async function press(page: Page, key: string): Promise<void> {
  await page.keyboard.press(key)
  await expect.poll(async () => (await focused(page)).lost).toBe(false)
}

it('leads through the life of a ladder without a pointer, and never loses the focus', async () => {
  const { page } = await workshop.open('dark desktop')
  await page.getByRole('heading', { name: 'What now?' }).waitFor()
  await tabTo(page, 'New ladder')
  await press(page, 'Enter')
  await page.getByLabel('Layer height').waitFor()
  await tabTo(page, /^Layer height/)
  await page.keyboard.press('Control+A')
  await page.keyboard.type('0.05')
  await tabTo(page, /^Mask pixel/)
  await page.keyboard.press('Control+A')
  await page.keyboard.type('34')
  await tabTo(page, 'Equal ratios between two ends')
  await page.keyboard.press('ArrowDown')
  await tabTo(page, /^Exposures in s/)
  await page.keyboard.type('1.4 1.7 2.1 2.6 3.2 4')
  await press(page, 'Enter')
  await page.waitForURL(/#\/ladder\//)
  const ladderId = page.url().split('/').at(-1)!

  await page.getByLabel('All coupons lie on the card').waitFor()
  await tabTo(page, /^All coupons lie on the card/)
  await press(page, 'Space')
  await page.getByText('3. Photograph').waitFor()

  workshop.reader.read = () => ({ ...answered, design: { ...answered.design, ladderId } })
  await tabTo(page, 'Choose a photo')
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Space')])
  await chooser.setFiles(workshop.freshPhoto())
  await page.waitForURL(/#\/reading\//)
  await page.getByText('95 % interval 2.16 to 2.56 s').waitFor()
  expect((await focused(page)).lost).toBe(false)

  await tabTo(page, `Ladder ${ladderId}`)
  await press(page, 'Enter')
  await page.getByRole('button', { name: 'Accept 2.3 s as setting' }).waitFor()
  await tabTo(page, 'Accept 2.3 s as setting')
  await page.keyboard.press('Enter')
  await page.getByText('Accepted.').waitFor()
  expect((await focused(page)).lost).toBe(false)
})

it('keeps the focus where a record is edited, saved and put away', async () => {
  const { page } = await workshop.open('dark desktop')
  await page.goto(`${workshop.url}/#/records/bottle`)
  await page.getByRole('button', { name: 'Add a bottle' }).waitFor()
  await tabTo(page, 'Add a bottle')
  await press(page, 'Enter')
  await tabTo(page, /^Name/)
  await page.keyboard.type('Top shelf')
  await press(page, 'Enter')
  await page.getByRole('heading', { name: 'Top shelf' }).waitFor()
  expect((await focused(page)).lost).toBe(false)
  await tabTo(page, 'Edit: Top shelf')
  await press(page, 'Enter')
  await tabTo(page, 'Cancel')
  await press(page, 'Enter')
  await tabTo(page, 'Put away: Top shelf')
  await press(page, 'Enter')
  // What can be taken back is said above the list.
  await tabTo(page, 'Undo', 'Shift+Tab')
})
