import { expect, it, vi } from 'vitest'
import type { PhotoAccepted, ReadingReply } from '../../../server/api/readings.js'
import { openPostgres } from '../../../server/storage/postgres.js'
import { runFile } from '../support/child.js'
import { newDatabase } from '../support/database.js'
import { plainPhoto } from '../support/service.js'

// Processes of their own take their time to start on a busy machine.
vi.setConfig({ testTimeout: 240_000 })

/** With STEPGLASS_SLOW more of them, so that ends fall on more moments. */
const PHOTOS = process.env['STEPGLASS_SLOW'] === '1' ? 400 : 12
const program = new URL('../support/shared-process.ts', import.meta.url)

async function upload(address: string, photo: Buffer): Promise<PhotoAccepted> {
  const form = new FormData()
  form.set('photo', new Blob([new Uint8Array(photo)]), 'bench.png')
  const reply = await fetch(`${address}/api/photos`, { method: 'POST', body: form })
  expect(reply.status).toBe(202)
  return (await reply.json()) as PhotoAccepted
}

it('reads each photograph once, whichever of two services and three readers is killed or asked to end', async () => {
  const DATABASE_URL = await newDatabase()
  const { pool: database } = await openPostgres(DATABASE_URL)
  // Whatever ends a reading is written down by the database itself.
  await database.query(`
    create table ends (reading_id text not null);
    create function note_end() returns trigger language plpgsql as
      $$ begin insert into ends values (new.reading_id); return null; end $$;
    create trigger note_end after update of state on readings
      for each row when (new.state in ('done', 'failed')) execute function note_end();`)
  const ask = async <Row extends object>(query: string) => (await database.query<Row>(query)).rows
  const start = (role: string) => runFile(program, [role], { DATABASE_URL })

  const [first, second, stuck] = [start('service'), start('service'), start('stuck')]
  const addresses = (await Promise.all([first, second].map((service) => service.line(/^http.*$/)))).map(([url]) => url)
  const [atFirst = '', atSecond = ''] = addresses
  await stuck.line(/is ready/)

  // The same photograph to both services at once is one photograph.
  const [one, same] = await Promise.all([atFirst, atSecond].map(async (to) => upload(to, await plainPhoto('#ff0000'))))
  expect(same).toMatchObject({ photoId: one?.photoId, readingId: one?.readingId })
  await expect.poll(() => ask(`select from readings where state = 'reading'`), { timeout: 20_000 }).toHaveLength(1)
  stuck.process.kill('SIGKILL')

  const [drained, last] = [start('slow'), start('reader')]
  await Promise.all([drained, last].map((reader) => reader.line(/is ready/)))
  const accepted = [one!]
  for (let i = 0; i < PHOTOS; i++) {
    const photo = await plainPhoto(`#${(0x100000 + i).toString(16)}`)
    accepted.push(await upload(i > PHOTOS / 2 ? atSecond : (addresses[i % 2] ?? ''), photo))
    if (i === Math.floor(PHOTOS / 2)) {
      first.process.kill('SIGKILL')
      await drained.line(/takes/)
      drained.process.kill('SIGTERM')
    }
  }

  expect(await drained.ended).toEqual([0, null])
  // It finished what it was reading, and took nothing further.
  expect(drained.output().split('\n')).toEqual(['is ready', 'takes a photograph', 'is asked to end', 'has read it'])

  const ends = () => ask<{ reading_id: string }>('select reading_id from ends')
  await expect.poll(ends, { timeout: 120_000, interval: 200 }).toHaveLength(accepted.length)
  const readings = accepted.map(({ readingId }) => readingId)
  expect((await ends()).map((end) => end.reading_id).toSorted()).toEqual(readings.toSorted())
  for (const { readingId, photoId } of accepted) {
    const reply = await fetch(`${atSecond}/api/readings/${readingId}`)
    expect((await reply.json()) as ReadingReply).toMatchObject({ photoId, state: 'done' })
  }
  expect(await ask('select from photos')).toHaveLength(accepted.length)
  // Only what was killed is tried anew, and nothing is left to do.
  expect(await ask('select reading_id from readings where attempts > 1')).toEqual([{ reading_id: one?.readingId }])
  await expect.poll(() => ask('select from graphile_worker.jobs')).toEqual([])
  await database.end()
})
