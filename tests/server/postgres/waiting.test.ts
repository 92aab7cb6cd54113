import { expect, it } from 'vitest'
import type { PhotoAccepted } from '../../../server/api/readings.js'
import { endlessPool } from '../support/pools.js'
import { plainPhoto, startService } from '../support/service.js'

it('tells whoever uploads how long it takes by the pace of all who read, wherever they are', async () => {
  const { app, get, upload } = await startService({ pool: { ...endlessPool(), readers: 0 }, sharing: { reads: false } })
  const waiting = async (background: string) =>
    (await upload(await plainPhoto(background))).json<PhotoAccepted>().waiting
  // While nobody reads, one reader is taken to come who needs 5 s a photograph.
  expect(await waiting('#101010')).toBeUndefined()
  expect(await waiting('#202020')).toEqual({ ahead: 1, estimatedS: 10 })
  await app.service.store.shared!.query(`insert into readers values ('a', now(), 4, 0.5), ('b', now(), 2, 1.5)`)
  expect((await get('/metrics')).body).toContain('stepglass_readers 2')
  // Two photographs at two a second, then this one in three seconds.
  expect(await waiting('#303030')).toEqual({ ahead: 2, estimatedS: 4 })
})
