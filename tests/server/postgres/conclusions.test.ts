import { setTimeout as wait } from 'node:timers/promises'
import { expect, it, onTestFinished } from 'vitest'
import { outcomeOf } from '../../../server/storage/reading-outcome.js'
import { openStore } from '../../../server/storage/store.js'
import { answered } from '../../support/reading-fixture.js'
import { newDatabase } from '../support/database.js'

it('says in short what stands, though a coupon is left out while its photograph is being read to the end', async () => {
  const store = await openStore('', await newDatabase())
  onTestFinished(() => store.close())
  const received = await store.files.receiveFile('samples/README.md')
  const facts = { name: 'a.jpg', extension: 'jpg', simulated: false }
  const { photoId, readingId } = await store.accept(received, facts, {})
  const job = (await store.readings.take())!

  let leaving: Promise<boolean> | undefined
  await store.atOnce(async ({ readings }) => {
    await readings.finish(job, answered)
    // Another connection, which does not see what is not yet written down for good.
    leaving = store.leaveOut(photoId, answered.rungs[0]!.slot, 'scratched')
    await wait(300)
  })
  await leaving
  const { outcome } = (await store.readings.summary(readingId))!
  expect(outcome).toEqual(outcomeOf((await store.readings.concluded(readingId))!))
  expect(outcome).not.toEqual(outcomeOf(answered))
})
