import { expect, it } from 'vitest'
import { loggerFor } from '../../server/logging.js'
import { plainPhoto, startService } from './support/service.js'

it('logs requests as JSON, and in them no passphrase, cookie, query or token of a link', async () => {
  const lines: string[] = []
  const logger = { ...loggerFor('debug'), stream: { write: (line: string) => void lines.push(line) } }
  const passphrase = 'clear as glass'
  const { app } = await startService({ passphrase, logger })
  const host = 'bench.local'
  const signIn = await app.inject({
    method: 'POST',
    url: '/sign-in?to=/hidden-query',
    headers: { host, 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams({ passphrase }).toString(),
  })
  const cookie = String(signIn.headers['set-cookie']).split(';')[0] ?? ''
  const token = 'A'.repeat(32)
  await app.inject({ url: `/s/${token}`, headers: { host } })
  await app.inject({ url: '/api/now', headers: { host, cookie } })
  await app.inject({ url: '/api/now', headers: { host, authorization: `Bearer ${passphrase}` } })
  await app.inject({ url: '/api/now', headers: { host, authorization: 'Bearer wrong as mud' } })
  const form = new FormData()
  form.set('photo', new Blob([new Uint8Array(await plainPhoto())]), 'bench.png')
  await app.inject({ method: 'POST', url: '/api/photos', headers: { host, cookie }, payload: form })

  expect(lines.length).toBeGreaterThan(10)
  for (const line of lines) expect(() => void JSON.parse(line)).not.toThrow()
  const log = lines.join('')
  expect(log).toContain('"path":"/s/..."')
  expect(log).toContain('"path":"/api/photos"')
  for (const secret of [
    passphrase,
    'clear%20as',
    'clear+as',
    cookie,
    'stepglass=',
    token,
    'hidden-query',
    'wrong as mud',
  ])
    expect(log, secret).not.toContain(secret)
})
