import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { LightMyRequestResponse } from 'fastify'
import { buildApp } from '../../server/app.js'
import { madeUpReading } from '../server/support/made-up-reading.js'
import { sureOf } from '../server/support/pools.js'
import { plainPhoto } from '../server/support/service.js'
import type { Finding } from './campaign.js'

/** What a refused request may at most be told, and how long any request may hold up the others: time of the processor, since the machine may be busy. */
const LONGEST_REFUSAL = 20_000
const SLOWEST_MS = 10_000

export interface Request {
  readonly method: string
  readonly url: string
  readonly headers: Readonly<Record<string, string>>
  readonly payload?: string | Buffer
}

/** A service in this process whose photographs are all said to show the same; a reading and a ladder lie in it. */
export async function fuzzedService() {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-fuzz-'))
  let logged = ''
  const logger = { level: 'error', stream: { write: (line: string) => void (logged = line) } }
  const app = await buildApp({
    logger,
    dataFolder: join(folder, 'data'),
    webFolder: resolve('dist/web'),
    pool: sureOf(madeUpReading),
  })
  const form = new FormData()
  form.set('photo', new Blob([new Uint8Array(await plainPhoto())]), 'bench.png')
  const sent = await app.inject({ method: 'POST', url: '/api/photos', headers: { host: 'localhost' }, payload: form })
  const known = sent.json<{ readingId: string; photoId: string }>()

  function judge(
    { method, url, payload }: Request,
    reply: LightMyRequestResponse,
    { user, system }: NodeJS.CpuUsage,
  ): Finding[] {
    const ms = (user + system) / 1000
    const { statusCode, headers, body } = reply
    const wrong = [
      statusCode >= 500 && `${statusCode}: ${logged.slice(0, 1500)}`,
      ms > SLOWEST_MS && `took ${Math.round(ms)} ms`,
      statusCode >= 400 && body.length > LONGEST_REFUSAL && `a refusal of ${body.length} characters`,
      statusCode >= 400 &&
        !String(headers['content-type']).startsWith('application/json') &&
        `refused as ${headers['content-type']}`,
      statusCode >= 400 &&
        method !== 'HEAD' &&
        !/"advice":"\S/.test(body) &&
        `refused without advice: ${body.slice(0, 200)}`,
      body.includes('root:x:') && 'shows a file of the system',
      headers['set-cookie'] !== undefined && 'sets a cookie',
      'polluted' in {} && 'every object has a new field',
    ]
    const input = `${method} ${url.slice(0, 500)} ${String(payload ?? '').slice(0, 500)}`
    return wrong.filter((what) => what !== false).map((what) => ({ what, input }))
  }

  return {
    app,
    known,
    async ask(request: Request): Promise<{ outcome: string; findings: Finding[] }> {
      const started = process.cpuUsage()
      try {
        const reply = await app.inject({ ...request, method: request.method as 'GET' })
        return { outcome: String(reply.statusCode), findings: judge(request, reply, process.cpuUsage(started)) }
      } catch (error) {
        // What no line of HTTP can carry never reaches the service.
        return { outcome: 'not sendable', findings: [], ...(/^FST/.test(String(error)) && { outcome: String(error) }) }
      }
    },
    /** What lies where nothing should be left. */
    leftBehind: () => [
      ...readdirSync(join(folder, 'data', 'incoming')).map((name) => `incoming/${name}`),
      ...readdirSync(folder).filter((name) => name !== 'data'),
    ],
    async close() {
      await app.close()
      rmSync(folder, { recursive: true })
    },
  }
}
