import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it, vi } from 'vitest'
import type { ErrorReply } from '../../server/api/common.js'
import type { Comparison } from '../../server/api/compare.js'
import type { LadderList } from '../../server/api/ladders.js'
import type { PhotoAccepted } from '../../server/api/readings.js'
import { compare } from '../../server/commands/compare.js'
import { UsageError } from '../../server/usage-error.js'
import { labelledLadder } from '../support/labelled-ladder.js'
import { madeUpReading } from './support/made-up-reading.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

it('keeps what the coupons of a ladder are of, and compares readings by it', async () => {
  const service = await startService()
  const { readingId } = await service.ended((await service.upload(await plainPhoto())).json<PhotoAccepted>())
  const ladder = `/api/ladders/${madeUpReading.design.ladderId}`
  const patch = (labels: object) =>
    service.app.inject({ method: 'PATCH', url: ladder, headers: { host: 'localhost' }, payload: { labels } })

  const unlabelled = await service.get(`/api/compare?by=bottle&readings=${readingId}`)
  expect(unlabelled.statusCode).toBe(422)
  expect(unlabelled.json<ErrorReply>()).toMatchObject({ code: 'nothing-to-compare' })

  expect((await patch({ bottle: ' A ', printer: 'left' })).json()).toMatchObject({
    labels: { bottle: 'A', printer: 'left' },
  })
  expect((await patch({ printer: '' })).statusCode).toBe(200)
  const { ladders } = (await service.get('/api/ladders')).json<LadderList>()
  expect(ladders[0]!.labels).toEqual({ bottle: 'A' })
  expect((await service.get(`/api/compare?by=bottle&readings=${readingId}`)).json<ErrorReply>()).toMatchObject({
    code: 'one-group',
  })

  const byExposure = await service.get(`/api/compare?by=exposure&of=yellowness&readings=${readingId}`)
  expect(byExposure.statusCode).toBe(200)
  expect(byExposure.json<Comparison>()).toMatchObject({
    method: 'stated',
    groups: [{ group: '1.6 s' }, { group: '2 s' }],
    notes: [{ code: 'unread' }],
  })
})

it.each([
  ['an unknown ladder', 'PATCH', '/api/ladders/AAAAAA', { labels: { bottle: 'A' } }, 404, 'no-such-ladder'],
  ['an unknown label', 'PATCH', '/api/ladders/AAAAAA', { labels: { colour: 'A' } }, 400, 'invalid-request'],
  ['an unknown reading', 'GET', '/api/compare?by=bottle&readings=x', undefined, 404, 'no-such-reading'],
  ['a comparison by nothing', 'GET', '/api/compare?readings=x', undefined, 400, 'invalid-request'],
] as const)('refuses %s', async (_what, method, url, payload, status, code) => {
  const { app } = await startService()
  const reply = await app.inject({ method, url, headers: { host: 'localhost' }, ...(payload && { payload }) })
  expect(reply.statusCode).toBe(status)
  expect(reply.json()).toMatchObject({ code, advice: expect.stringMatching(/\w/) as string })
})

function readingFiles(): string[] {
  const folder = scratchFolder()
  return ['a', 'b'].map((name, i) => {
    const scatter = i === 0 ? [0, 0.001, 0.002] : [0.002, 0, 0.001]
    const haze = scatter.map((more, j) => ({ exposureS: 2 + j / 2, value: 0.04 + 0.05 * i + more }))
    const { reading } = labelledLadder({ photo: name, ladderId: `K7Q2X${i}`, labels: {}, date: '', haze })
    const path = join(folder, `${name}.json`)
    writeFileSync(path, JSON.stringify(reading))
    return path
  })
}
const flags = { by: 'bottle', of: 'haze', label: ['a.json:bottle=A', 'b.json:bottle=B,date=2026-02-01'] } as const

it('compares files by the labels given on the command line', async () => {
  const log = vi.spyOn(console, 'log').mockReturnValue()
  expect(await compare(readingFiles(), flags)).toBe(0)
  const printed = log.mock.calls.flat().join('\n')
  log.mockRestore()
  expect(printed).toMatch(/^bottle +haze index \(relative\) +95 % interval +coupons +photographs$/m)
  expect(printed).toMatch(/^B +0\.091 ± 0\.012 /m)
  expect(printed).toContain('[photos-stated]')
})

it.each([['a.json'], ['c.json:bottle=A'], ['a.json:colour=A'], ['a.json:date=May'], ['a.json#2:']])(
  'refuses the label %s with how to write it',
  async (label) => {
    await expect(compare(readingFiles(), { ...flags, label: [label] })).rejects.toThrow(UsageError)
  },
)
