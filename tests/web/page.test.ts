import { resolve } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { FastifyInstance } from 'fastify'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { buildApp } from '../../server/app.js'
import { openBrowser } from '../support/open-browser.js'

let app: FastifyInstance
let browser: Browser
beforeAll(async () => {
  app = await buildApp({ webFolder: resolve('dist/web') })
  browser = await openBrowser()
})
afterAll(async () => {
  await browser.close()
  await app.close()
})

it('opens without an error in the console and without an accessibility violation', async () => {
  const page = await (await browser.newContext()).newPage()
  const errors: string[] = []
  page.on('pageerror', (error) => errors.push(String(error)))
  page.on('console', (message) => message.type() === 'error' && errors.push(message.text()))
  await page.goto(await app.listen({ port: 0, host: '127.0.0.1' }))
  await page.getByRole('heading', { name: 'Stepglass' }).waitFor()
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([])
  expect(errors).toEqual([])
})
