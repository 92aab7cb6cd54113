import { DatabaseSync } from '@photostructure/sqlite'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import type { LadderList, LadderRecord } from '../../server/api/ladders.js'
import type { Bottle, StoredRecord } from '../../server/api/records.js'
import { migrations } from '../../server/storage/migrations.js'
import { onPostgres } from './support/database.js'
import { scratchFolder, startService } from './support/service.js'

const plan = { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3] }

async function start(dataFolder = scratchFolder()) {
  const service = await startService({ dataFolder })
  const patch = (url: string, payload: object) =>
    service.app.inject({ method: 'PATCH', url, headers: { host: 'localhost' }, payload })
  const found = async (search: string) => {
    const { total, ladders } = (
      await service.get(`/api/ladders?search=${encodeURIComponent(search)}`)
    ).json<LadderList>()
    expect(total).toBe(ladders.length)
    return ladders.map(({ design }) => design.ladderId)
  }
  const bottle = async (content: Bottle) => (await service.post('/api/bottles', content)).json<StoredRecord<Bottle>>()
  const ladder = async (facts: object) =>
    (await service.post('/api/ladders/plan', { ...plan, facts })).json<LadderRecord>().design.ladderId
  return { ...service, patch, found, bottle, ladder }
}

it('finds a ladder by parts of words, however short, of its note, name, labels, bottle and printer', async () => {
  const { post, patch, found, bottle, ladder } = await start()
  const { recordId: bottleId } = await bottle({ name: 'Shelf 2, Grün' })
  const printer = { name: 'North', pixelPitchUm: 34, timeStepS: 0.1 }
  const { recordId: printerId } = (await post('/api/printers', printer)).json<StoredRecord<object>>()
  const one = await ladder({ bottleId, printerId, note: 'after 5 % of "thinner" (warm)' })
  const other = await ladder({ note: 'cold' })
  await patch(`/api/ladders/${other}`, { labels: { bottle: 'Clear', batch: '0417' } })

  const words = [
    'helf',
    '2,',
    'ORT',
    'grün',
    '5 %',
    '"thinner"',
    '(wa',
    '%',
    'shelf north warm',
    one.toLowerCase().slice(1, 5),
  ]
  for (const each of words) expect(await found(each), each).toEqual([one])
  expect(await found('0417 clear')).toEqual([other])
  for (const each of ['shelf cold', '_', 'aft%r', 'batch']) expect(await found(each), each).toEqual([])
})

it('finds a ladder by what its bottle, note and labels are called now', async () => {
  const { patch, found, bottle, ladder } = await start()
  const { recordId: bottleId } = await bottle({ name: 'Before' })
  const id = await ladder({ bottleId, note: 'first note' })
  await patch(`/api/bottles/${bottleId}`, { content: { name: 'After' } })
  expect([await found('before'), await found('after')]).toEqual([[], [id]])
  await patch(`/api/ladders/${id}`, { facts: { bottleId, note: 'second note' } })
  expect([await found('first'), await found('second after')]).toEqual([[], [id]])
})

it.skipIf(onPostgres)('finds the ladders of a database that an earlier version wrote', async () => {
  const dataFolder = scratchFolder()
  const before = migrations.findIndex((step) => step.includes('ladder_search'))
  const db = new DatabaseSync(join(dataFolder, 'stepglass.sqlite'))
  for (const step of migrations.slice(0, before)) db.exec(step)
  db.exec(`pragma user_version = ${before}`)
  const record = { name: 'Old bottle' }
  db.prepare(`insert into records values ('b', 'bottle', ?, 'old bottle', '2026-01-01', '2026-01-01', null)`).run(
    JSON.stringify(record),
  )
  db.prepare(`insert into ladders (ladder_id, design, created_at, facts) values ('K7Q2XN', ?, '2026-01-01', ?)`).run(
    JSON.stringify({ ladderId: 'K7Q2XN', ...plan }),
    JSON.stringify({ bottleId: 'b' }),
  )
  db.close()
  const { found } = await start(dataFolder)
  expect([await found('old'), await found('7q2'), await found('new')]).toEqual([['K7Q2XN'], ['K7Q2XN'], []])
})
