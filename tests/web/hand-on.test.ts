import { readFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { SettingSheet } from '../../server/api/sheets.js'
import { fullSheet } from '../server/sheets/sheets.js'
import { expectSound, openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

describe.each(['light phone', 'dark desktop'] as const)('on a %s', (kind) => {
  it('makes a sheet of a setting, saves it, and gives it a link that can be revoked', async () => {
    const window = await workshop.open(kind)
    const { page } = window
    const setting = { exposureS: 2.3, intervalS: [2.1, 2.6], layerHeightUm: 50, origin: 'own' }
    const reply = await fetch(`${workshop.url}/api/settings`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(setting),
    })
    const { recordId } = (await reply.json()) as { recordId: string }
    await page.goto(`${workshop.url}/#/setting/${recordId}`)
    await page.getByLabel('Your name on it').fill('Canal works')
    await page.getByLabel('Sign it').check()
    await page.getByRole('button', { name: 'Make the sheet' }).click()
    await page.getByText(/^Sheet .* is made\.$/).waitFor()
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'File for Stepglass' }).click(),
    ])
    const sheet = JSON.parse(readFileSync(await download.path(), 'utf8')) as SettingSheet
    expect(sheet).toMatchObject({ exposureS: 2.3, madeBy: 'Canal works', signature: { algorithm: 'ed25519' } })

    await page.getByText('Links', { exact: true }).click()
    await page.getByRole('button', { name: 'Make a link' }).click()
    const address = await page.locator('code.address').innerText()
    expect((await fetch(address)).status).toBe(200)
    await expectSound(window)
    await page.getByRole('button', { name: 'Revoke' }).click()
    await page.getByText('revoked', { exact: true }).waitFor()
    expect((await fetch(address)).status).toBe(404)
  })

  it('takes a sheet in, shows it beside another and carries it to another printer', async () => {
    const window = await workshop.open(kind)
    const { page } = window
    await page.goto(`${workshop.url}/#/take-in`)
    const sheet = { ...fullSheet, sheetId: kind === 'light phone' ? 'PHONE123' : 'DESK1234' }
    await page.locator('input[type=file]').setInputFiles({
      name: 'sheet.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(sheet)),
    })
    await page.getByText('Taken in: 2.7 s').waitFor()
    await page.getByText('Not signed').waitFor()
    await expectSound(window)
    await page.getByRole('link', { name: 'Open it' }).click()

    await page.getByText('For another printer', { exact: true }).click()
    await page.getByLabel('Light of the other printer').fill('6.2')
    await page.getByRole('button', { name: 'Carry it over' }).click()
    await page.getByText(/about 1\.35 s/).waitFor()
    await page.getByText('Beside another setting', { exact: true }).click()
    await page.getByLabel('The other one').selectOption({ index: 1 })
    await page.getByRole('button', { name: 'Compare', exact: true }).click()
    await page.getByRole('rowheader', { name: 'Layer exposure' }).waitFor()
    await expectSound(window)
  })

  it('says what to do with a file that holds no setting', async () => {
    const window = await workshop.open(kind)
    const { page } = window
    await page.goto(`${workshop.url}/#/take-in`)
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{"schema":"x"}') })
    await page.getByRole('alert').getByText('Nothing was taken in.').waitFor()
    await page.getByText('Ask for the sheet again').waitFor()
    // The browser's own note of the refusal.
    expect(window.errors.splice(0)).toEqual([expect.stringContaining('422')])
    await expectSound(window)
  })
})
