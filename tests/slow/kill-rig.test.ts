import { spawnSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import { beforeAll, expect, it } from 'vitest'
import { audit } from './kill-rig/audit.js'
import { runKills } from './kill-rig/kill-rig.js'
import { Ledger } from './kill-rig/ledger.js'
import { openStore } from '../../server/storage/store.js'
import { scratchFolder } from '../server/support/service.js'

// What is killed is the service as it is built; the first call builds it when a source is newer than the last build.
beforeAll(() => void spawnSync(process.execPath, ['server/bin/stepglass.mjs', '--help']), 300_000)

// The long run is `npx tsx tests/slow/kill-rig/run.ts 500`.
it('loses nothing it acknowledged in 8 kills at random moments', async () => {
  const { kills, faults } = await runKills({ kills: 8, seed: 7, realPhotos: [], realShare: 0 })
  expect(faults).toEqual([])
  expect(Object.values(kills).reduce((sum, n) => sum + n, 0)).toBe(8)
})

it('sees what was lost, changed or not as it came', async () => {
  const folder = scratchFolder()
  const store = await openStore(folder)
  const received = await store.files.receiveFile('samples/README.md')
  const facts = { name: 'a.jpg', extension: 'jpg', simulated: false }
  const { photoId, readingId } = await store.accept(received, facts, {}, 'upload-of-a-phone-1')
  const { recordId } = await store.records.add('bottle', { name: 'Shelf 2' })
  const ledger = new Ledger()
  ledger.photos.set('upload-of-a-phone-1', { photoId, readingId })
  ledger.records.set(recordId, { sent: ['Shelf 2'], from: 0, changes: 0 })
  const look = () => audit(folder, [ledger], { everyFile: true, started: true })
  expect(look()).toEqual([])

  await store.records.change('bottle', recordId, { content: { name: 'Shelf 3' } })
  expect(look()).toEqual([`record ${recordId} is Shelf 3, not Shelf 2`])
  ledger.records.clear()
  ledger.ladders.add('NEVERMADE')
  expect(look()).toEqual(['lost ladder NEVERMADE'])
  ledger.ladders.clear()
  const path = (await store.usePhoto(photoId, (file) => Promise.resolve(file))) ?? ''
  writeFileSync(path, 'something else')
  expect(look()).toEqual([`the file of ${photoId} is not as it came`])
  rmSync(path)
  writeFileSync(path.replace('.jpg', '.png'), 'a stray')
  expect(look()).toContain(`the file of ${photoId} is gone`)
  expect(look()).toContain(`files that no record names: ${photoId}.png`)
  await store.close()
})
