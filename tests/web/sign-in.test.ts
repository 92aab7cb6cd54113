import { AxeBuilder } from '@axe-core/playwright'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { expect, it, onTestFinished } from 'vitest'
import { buildApp } from '../../server/app.js'
import { openBrowser } from '../support/open-browser.js'

it.each([
  { locale: 'en', label: 'Passphrase', button: 'Sign in', wrong: 'That is not the passphrase.', start: 'Photograph' },
  { locale: 'de', label: 'Losung', button: 'Anmelden', wrong: 'Das ist nicht die Losung.', start: 'fotografieren' },
])('asks for the passphrase in $locale, says that one is wrong, and lets in with the right one', async (words) => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-sign-in-'))
  const app = await buildApp({ dataFolder, webFolder: resolve('dist/web'), passphrase: 'a right one' })
  const browser = await openBrowser()
  onTestFinished(async () => {
    await browser.close()
    await app.close()
    rmSync(dataFolder, { recursive: true })
  })
  const context = await browser.newContext({ locale: words.locale, viewport: { width: 390, height: 844 } })
  const page = await context.newPage()
  await page.goto(await app.listen({ port: 0, host: '127.0.0.1' }))
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([])

  const enter = async (passphrase: string) => {
    await page.getByLabel(words.label).fill(passphrase)
    await page.getByRole('button', { name: words.button }).click()
  }
  await enter('a wrong one')
  expect(await page.getByRole('alert').innerText()).toContain(words.wrong)
  await enter('a right one')
  await page.getByText(words.start).first().waitFor()
})
