import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { expectSound, openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

/** A voice that writes down what it says, for the browser under test has none; and a screen that can be held on. */
function standIns(): void {
  const [spoken, notices]: [string[], string[]] = [[], []]
  const screens: { released: boolean; release(): Promise<void> }[] = []
  Object.assign(globalThis, { spoken, notices, screens, asked: 0 })
  Object.defineProperty(globalThis, 'speechSynthesis', {
    value: { speak: ({ text }: { text: string }) => spoken.push(text) },
  })
  Object.defineProperty(navigator, 'wakeLock', {
    value: {
      request: () => {
        const screen = {
          released: false,
          release() {
            this.released = true
            return Promise.resolve()
          },
        }
        screens.push(screen)
        return Promise.resolve(screen)
      },
    },
  })
}

/** Opens the bench of timers with a clock of its own. */
async function openBench(more: Parameters<typeof workshop.open>[1] = {}) {
  const window = await workshop.open('light phone', more)
  const { page } = window
  const context = page.context()
  await context.addInitScript(standIns)
  await context.clock.install({ time: new Date('2026-02-01T10:00:00') })
  await page.goto(`${workshop.url}/#/finish`)
  await page.reload()
  await page.getByRole('heading', { name: 'Timers' }).waitFor()
  return window
}
async function startOwn(page: Page, name: string, minutes: string): Promise<void> {
  await page.getByText('A timer of your own').click()
  await page.getByLabel('What for').fill(name)
  await page.getByLabel('Minutes').fill(minutes)
  await page.getByRole('button', { name: 'Start', exact: true }).click()
  await page.getByText(name, { exact: true }).first().waitFor()
}
const spoken = (page: Page) => page.evaluate('spoken')
/** Hides the page as another app in front does, or shows it again. */
const setVisible = (page: Page, state: 'visible' | 'hidden') =>
  page.evaluate((now) => {
    Object.defineProperty(document, 'visibilityState', { value: now, configurable: true })
    document.dispatchEvent(new Event('visibilitychange'))
  }, state)

it('waits for the turn that was missed in a sleep, says when it was due, and goes on from the tap', async () => {
  const window = await openBench()
  const { page } = window
  await page.goto(`${workshop.url}/#/finish/post-cure`)
  await page.getByLabel('At the part').fill('40')
  await page.getByLabel('Radiant exposure').check()
  await page.getByLabel('J/cm² at each face').fill('12')
  await page.getByLabel('Thickness of the part').fill('6')
  await page.getByRole('button', { name: 'Work it out' }).click()
  await page.getByRole('button', { name: 'Start the timer' }).click()
  await page.getByRole('timer').waitFor()
  // Two faces of 300 s. Eight minutes asleep: no tick of the page ran meanwhile.
  await page.clock.fastForward(8 * 60_000)
  await expect.poll(() => page.getByRole('timer').innerText()).toBe('Waits for you')
  expect(await spoken(page)).toEqual(['Post-cure: light off, turn the part'])
  expect(await page.locator('ul.missed').innerText()).toMatch(/10:0\d:\d\d.* light off, turn the part/)
  expect(await page.locator('.timer').innerText()).toMatch(/for [23]:\d\d/)
  await expectSound(window)

  await page.getByRole('button', { name: 'Done, go on' }).click()
  await expect.poll(() => page.getByRole('timer').innerText()).toMatch(/^(5:00|4:[345]\d)$/)
  expect(await page.locator('ul.missed').count()).toBe(0)
})

it('holds the screen on, and anew when the browser let go of it in the background', async () => {
  const { page } = await openBench()
  await startOwn(page, 'Bath', '5')
  await page.getByText('The screen stays on while a timer runs').waitFor()
  expect(await page.evaluate('screens.length')).toBe(1)
  await page.evaluate('screens[0].release()')
  await setVisible(page, 'hidden')
  await page.getByText('This browser does not keep the screen on').waitFor()
  await setVisible(page, 'visible')
  await page.getByText('The screen stays on while a timer runs').waitFor()
  expect(await page.evaluate('screens.length')).toBe(2)
  await page.getByRole('button', { name: 'Remove: Bath' }).click()
  await expect.poll(() => page.evaluate('screens[1].released')).toBe(true)
})

it('goes on on other pages, after a reload too, and leads back from there', async () => {
  const window = await openBench()
  const { page } = window
  await startOwn(page, 'Bath', '5')
  await page.goto(`${workshop.url}/#/`)
  await page.reload()
  const strip = page.getByRole('link', { name: /Bath/ })
  await expect.poll(() => strip.innerText()).toMatch(/Bath (5:00|4:[345]\d)/)
  await expectSound(window)
  await page.clock.fastForward(5 * 60_000)
  await expect.poll(() => strip.innerText()).toBe('Bath Done')
  expect(await spoken(page)).toEqual(['Bath: time is over'])
  await strip.click()
  await page.getByRole('timer').waitFor()
})

it('asks for a tap after a reload, before which a browser is silent', async () => {
  const { page } = await openBench()
  await startOwn(page, 'Bath', '5')
  expect(await page.getByText('The page was loaded anew').count()).toBe(0)
  await page.reload()
  await page.getByText('The page was loaded anew').waitFor()
  await page.getByRole('button', { name: 'Switch the sound on' }).click()
  await page.getByText('The page was loaded anew').waitFor({ state: 'detached' })
})

it('speaks once when two pages are open, and both show the same', async () => {
  const { page } = await openBench()
  const other = await page.context().newPage()
  await other.goto(`${workshop.url}/#/finish`)
  await other.getByRole('heading', { name: 'Timers' }).waitFor()
  await startOwn(page, 'Bath', '5')
  await expect.poll(() => other.getByRole('timer').count()).toBe(1)
  await page.clock.fastForward(5 * 60_000)
  for (const one of [page, other]) await expect.poll(() => one.getByRole('timer').innerText()).toBe('Done')
  const said = async () => ([await spoken(page), await spoken(other)] as string[][]).flat()
  await expect.poll(said).toEqual(['Bath: time is over'])
  // Time enough for the other one to say it too.
  await page.waitForTimeout(1000)
  expect(await said()).toEqual(['Bath: time is over'])
})

it('asks for notifications on a tap only, and sends one while another app is in front', async () => {
  const { page } = await openBench({ serviceWorkers: 'allow' })
  await page.context().grantPermissions(['notifications'])
  // What the browser would show; the browser under test has nowhere to show it.
  await page.context().addInitScript(() => {
    let permission = 'default'
    Object.defineProperty(Notification, 'permission', { get: () => permission })
    Notification.requestPermission = () => {
      Object.assign(globalThis, { asked: (globalThis as unknown as { asked: number }).asked + 1 })
      permission = 'granted'
      return Promise.resolve('granted')
    }
    ServiceWorkerRegistration.prototype.showNotification = (title, options) => {
      ;(globalThis as unknown as { notices: string[] }).notices.push(`${title}: ${options?.body}`)
      return Promise.resolve()
    }
  })
  await page.reload()
  await startOwn(page, 'Bath', '5')
  expect(await page.evaluate('asked')).toBe(0)
  await page.getByRole('button', { name: 'Notify me too' }).click()
  await page.getByText('Notifications are on.').waitFor()
  expect(await page.evaluate('asked')).toBe(1)
  await setVisible(page, 'hidden')
  await page.clock.fastForward(5 * 60_000)
  await expect.poll(() => page.evaluate('notices')).toEqual(['Bath: time is over'])
  // In front it speaks and shows; a notification would only say it twice.
  await setVisible(page, 'visible')
  await page.getByRole('button', { name: 'Remove: Bath' }).click()
  await startOwn(page, 'Second', '5')
  await page.clock.fastForward(5 * 60_000)
  await expect.poll(() => page.getByRole('timer').innerText()).toBe('Done')
  expect(await page.evaluate('notices')).toHaveLength(1)
})
