import { resolve } from 'node:path'
import { expect, it, onTestFinished } from 'vitest'
import type { PhotoAccepted, ReadingList, ReadingReply } from '../../../server/api/readings.js'
import { ServiceError } from '../../../server/plugins/errors.js'
import { openBrowser } from '../../support/open-browser.js'
import { madeUpReading } from '../support/made-up-reading.js'
import { poolOf } from '../support/pools.js'
import { plainPhoto, startService } from '../support/service.js'

it('reads again later what broke a reader off, three times, then shows why and offers to read it again', async () => {
  let broken = true
  const pool = poolOf(async () => {
    if (broken) throw new ServiceError(500, 'reader-ended', 'The reader broke off.', 'Take a new photograph.')
    return madeUpReading
  })
  const { app, get, upload } = await startService({ pool, webFolder: resolve('dist/web') })
  const { shared } = app.service.store
  const { readingId } = (await upload(await plainPhoto())).json<PhotoAccepted>()

  const stateNow = async () => (await get(`/api/readings/${readingId}`)).json<ReadingReply>().state
  /** Seconds until it is read again, once `attempts` have failed. */
  const nextIn = async (attempts: number): Promise<number> => {
    const query = `select (extract(epoch from run_at - now()))::float as wait from readings
      join graphile_worker.jobs on key = reading_id
      where readings.attempts = $1 and state = 'queued' and locked_at is null`
    await expect.poll(async () => (await shared!.query(query, [attempts])).rowCount, { timeout: 20_000 }).toBe(1)
    return (await shared!.query<{ wait: number }>(query, [attempts])).rows[0]?.wait ?? 0
  }
  const hurry = () =>
    shared!.query('select graphile_worker.reschedule_jobs(array(select id from graphile_worker.jobs), now())')
  const waits = [await nextIn(1)]
  await hurry()
  waits.push(await nextIn(2))
  await hurry()
  // Each wait is e times the one before, less what has passed since.
  expect(waits[0]).toBeLessThanOrEqual(Math.E)
  expect(waits[1]).toBeGreaterThan(Math.E)
  expect(waits[1]).toBeLessThanOrEqual(Math.E ** 2)
  await expect.poll(stateNow, { timeout: 20_000 }).toBe('failed')
  await expect.poll(async () => (await shared!.query('select from graphile_worker.jobs')).rowCount).toBe(0)
  const list = (await get('/api/readings')).json<ReadingList>()
  expect(list.readings).toMatchObject([{ readingId, state: 'failed', failure: { code: 'reader-ended' } }])

  const address = await app.listen({ port: 0, host: '127.0.0.1' })
  const browser = await openBrowser()
  onTestFinished(() => browser.close())
  const page = await browser.newPage()
  await page.goto(address)
  await page.getByRole('link', { name: /Failed/ }).click()
  await page.getByRole('heading', { name: 'The reading stopped' }).waitFor()
  await page
    .getByRole('alert')
    .filter({ hasText: 'The reader broke off.' })
    .getByText('Take a new photograph.')
    .waitFor()
  await page.getByRole('alert').getByRole('link', { name: 'What helps' }).click()
  await page.getByRole('heading', { name: 'When a photo is not read' }).waitFor()
  await page.goBack()
  broken = false
  await page.getByRole('button', { name: 'Read the photo again' }).click()
  await expect.poll(stateNow, { timeout: 20_000 }).toBe('done')
})
