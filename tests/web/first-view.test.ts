import { afterAll, beforeAll, expect, it } from 'vitest'
import { openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

const pageFor = async (headers: Record<string, string>) =>
  (await workshop.app.inject({ url: '/', headers: { host: '127.0.0.1', ...headers } })).body

it.each([
  [{}, 'en'],
  [{ 'accept-language': 'de-CH,de;q=0.9,en;q=0.8' }, 'de'],
  [{ 'accept-language': 'fr,en;q=0.8,de;q=0.7' }, 'en'],
  [{ 'accept-language': 'de', cookie: 'a=1; language=en' }, 'en'],
  [{ 'accept-language': 'de', cookie: 'language=tlh' }, 'de'],
])('sends the first view in the language that is wished: %o', async (headers, language) => {
  const page = await pageFor(headers)
  expect(page).toContain(`<html lang="${language}">`)
  expect(page).toContain({ en: 'What now?', de: 'Was nun?' }[language])
  const [, words] = /modulepreload" crossorigin href="([^"]*)"/.exec(page)!
  const { body } = await workshop.app.inject({ url: words!, headers: { host: '127.0.0.1' } })
  expect(body).toContain({ en: 'Choose a photo', de: 'Foto wählen' }[language])
})

it('sends a photo that was chosen before the script had come, once', async () => {
  const { page, errors } = await workshop.open('light phone', { locale: 'de' })
  let sent = 0
  page.on('request', (request) => request.url().endsWith('/api/photos') && sent++)
  let letScriptsCome = () => {}
  const held = new Promise<void>((go) => (letScriptsCome = go))
  await page.route(/assets\/start-.*\.js$/, async (route) => {
    await held
    await route.continue()
  })
  await page.goto(workshop.url, { waitUntil: 'commit' })
  await page.getByLabel('Foto aufnehmen').setInputFiles(workshop.freshPhoto())
  letScriptsCome()
  await page.waitForURL(/#\/reading\//)
  expect(sent).toBe(1)
  expect(errors).toEqual([])
})

it.each(['#/ladders', '#/reading/none'])('shows nothing of the first view to who asked for %s', async (hash) => {
  const { page } = await workshop.open('light phone')
  let letScriptsCome = () => {}
  const held = new Promise<void>((go) => (letScriptsCome = go))
  await page.route(/assets\/start-.*\.js$/, async (route) => {
    await held
    await route.continue()
  })
  await page.goto('about:blank')
  await page.goto(`${workshop.url}/${hash}`, { waitUntil: 'commit' })
  const sent = page.getByText('What now?')
  await sent.waitFor({ state: 'attached' })
  expect(await sent.isVisible()).toBe(false)
  letScriptsCome()
  await page.locator('main h1').waitFor()
  expect(await sent.count()).toBe(0)
})

it('draws the page anew for who chose another language than the browser asks for', async () => {
  const { page } = await workshop.open('light phone')
  await page.evaluate(() => localStorage.setItem('language', 'de'))
  await page.reload()
  await page.getByRole('heading', { name: 'Was nun?' }).waitFor()
  expect(await page.locator('html').getAttribute('lang')).toBe('de')
  expect(await page.getByText('What now?').count()).toBe(0)
})
