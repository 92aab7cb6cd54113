import { expect, it } from 'vitest'
import { startService } from './support/service.js'

const directives = (policy: unknown) =>
  Object.fromEntries(
    String(policy)
      .split(';')
      .map((one) => one.trim().split(' '))
      .map(([name = '', ...sources]) => [name, sources]),
  )

it('lets no script run that stands in a page, and forces no page to https', async () => {
  const service = await startService()
  for (const url of ['/api/health', '/docs', '/nothing']) {
    const { headers } = await service.get(url)
    const policy = directives(headers['content-security-policy'])
    expect(policy['script-src'], url).toEqual(["'self'"])
    expect(policy['default-src'], url).toEqual(["'self'"])
    expect(policy, url).not.toHaveProperty('upgrade-insecure-requests')
    expect(headers, url).not.toHaveProperty('strict-transport-security')
  }
  // The page of the description obeys it, too: every script is a file.
  const { body } = await service.get('/docs')
  expect(body).toContain('<script')
  expect(body).not.toMatch(/<script(?![^>]*\ssrc=)/)
})

it.each(['localhost:8080', '127.0.0.1', '[::1]:8080'])('answers as %s', async (host) => {
  const { app } = await startService()
  expect((await app.inject({ url: '/api/health', headers: { host } })).statusCode).toBe(200)
})

it('answers to no foreign name', async () => {
  const { app } = await startService()
  const reply = await app.inject({ url: '/api/health', headers: { host: 'evil.example' } })
  expect(reply.statusCode).toBe(403)
  expect(reply.json()).toMatchObject({ code: 'foreign-name' })
})

it("lets no other site's page change anything", async () => {
  const { app } = await startService()
  const plan = { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2] }
  const from = (origin: string) =>
    app.inject({ method: 'POST', url: '/api/ladders/plan', headers: { host: 'localhost:8080', origin }, payload: plan })
  for (const origin of ['https://evil.example', 'null']) {
    const reply = await from(origin)
    expect(reply.statusCode, origin).toBe(403)
    expect(reply.json(), origin).toMatchObject({ code: 'foreign-origin' })
  }
  expect((await from('http://localhost:8080')).statusCode).toBe(201)
})

it("answers nothing that another site's page asks for without the person opening it", async () => {
  const { app } = await startService()
  const ask = (mode: string, site: string, method: 'GET' | 'POST' = 'GET') =>
    app.inject({
      method,
      url: '/api/readings',
      headers: { host: 'localhost', 'sec-fetch-mode': mode, 'sec-fetch-site': site },
    })
  expect((await ask('no-cors', 'cross-site')).json()).toMatchObject({ code: 'foreign-origin' })
  expect((await ask('navigate', 'cross-site', 'POST')).statusCode).toBe(403)
  expect((await ask('navigate', 'cross-site')).statusCode).toBe(200)
  expect((await ask('cors', 'same-origin')).statusCode).toBe(200)
})

it('tells nobody what went wrong inside', async () => {
  const service = await startService()
  const { readings } = service.app.service.store
  Object.assign(readings, { list: () => Promise.reject(new Error('secret, in /a/folder')) })
  const reply = await service.get('/api/readings')
  expect(reply.statusCode).toBe(500)
  expect(reply.json()).toEqual({
    code: 'internal',
    message: 'Something went wrong inside Stepglass.',
    advice: 'Try again. If it happens again, the log of the service says more.',
  })
})
