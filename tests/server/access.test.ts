import { expect, it } from 'vitest'
import { passphraseGate, TooManyGuesses } from '../../server/access/passphrase.js'
import { throttle } from '../../server/access/throttle.js'
import { startService } from './support/service.js'

const PASSPHRASE = 'glaß: 7 klar'
const host = 'bench.local'
const basic = (credentials: string) => `Basic ${Buffer.from(credentials).toString('base64')}`

async function openService(options: { readonly trustProxy?: string } = {}) {
  const { app } = await startService({ passphrase: PASSPHRASE, ...options })
  const remoteAddress = '192.0.2.1'
  const ask = (url: string, headers: Record<string, string> = {}) =>
    app.inject({ url, headers: { host, ...headers }, remoteAddress })
  const signIn = (passphrase: string, headers: Record<string, string> = {}, to = '/docs?a=1') =>
    app.inject({
      method: 'POST',
      url: `/sign-in?to=${encodeURIComponent(to)}`,
      headers: { host, 'content-type': 'application/x-www-form-urlencoded', ...headers },
      payload: new URLSearchParams({ passphrase }).toString(),
      remoteAddress,
    })
  return { app, ask, signIn }
}
const cookieOf = (reply: { headers: Record<string, unknown> }) => String(reply.headers['set-cookie'])

it('answers by any name when it is open to the network, but only with the passphrase', async () => {
  const { ask } = await openService()
  // What stands in a header travels as bytes.
  const bearer = `Bearer ${Buffer.from(PASSPHRASE).toString('latin1')}`
  for (const authorization of [basic(`anyone:${PASSPHRASE}`), bearer])
    expect((await ask('/api/now', { authorization })).statusCode).toBe(200)
  for (const url of ['/api/now', '/docs', '/docs/json', '/nothing', '/', '/metrics', '/api/archive.zip'])
    for (const wrong of [undefined, 'Basic', 'Digest x', `Bearer`]) {
      const reply = await ask(url, wrong === undefined ? {} : { authorization: wrong })
      expect(reply.statusCode, `${url} ${wrong}`).toBe(401)
      // Basic authentication would have the browser ask in a window of its own.
      expect(reply.headers['www-authenticate'], url).toMatch(/^Bearer/)
      expect(reply.json(), url).toMatchObject({ code: 'passphrase' })
    }
  for (const wrong of [basic(`anyone:${PASSPHRASE} `), basic(PASSPHRASE), 'Bearer x'])
    expect((await ask('/api/now', { authorization: wrong })).statusCode, wrong).toBe(401)
})

it('shows a browser where to sign in, and then lets it in by a cookie that no script and no other site can use', async () => {
  const { ask, signIn } = await openService()
  const sent = await ask('/docs?a=1', { accept: 'text/html,*/*' })
  expect([sent.statusCode, sent.headers['location']]).toEqual([303, '/sign-in?to=%2Fdocs%3Fa%3D1'])
  const page = await ask('/sign-in', { 'accept-language': 'de-CH,de;q=0.9,en;q=0.5' })
  expect(page.headers['cache-control']).toBe('no-store')
  expect(page.body).toContain('<html lang="de">')
  expect(page.body).toContain('<label for="passphrase">Losung</label>')
  expect(page.body).not.toContain('<script')
  expect((await ask('/sign-in', { 'accept-language': 'en-GB,de;q=0.5' })).body).toContain('<html lang="en">')

  const wrong = await signIn('glass')
  expect(wrong.statusCode).toBe(401)
  expect(wrong.body).toContain('role="alert"')
  expect(wrong.headers).not.toHaveProperty('set-cookie')

  const right = await signIn(PASSPHRASE)
  expect([right.statusCode, right.headers['location']]).toEqual([303, '/docs?a=1'])
  expect(cookieOf(right)).toMatch(/^stepglass=[^;]+; Path=\/; Max-Age=2592000; HttpOnly; SameSite=Strict$/)
  const cookie = cookieOf(right).split(';')[0] ?? ''
  expect((await ask('/api/now', { cookie: `other=1; ${cookie}` })).statusCode).toBe(200)
  // Changed by one character anywhere, it is worth nothing.
  for (let i = 'stepglass='.length; i < cookie.length; i += 7) {
    const changed = cookie.slice(0, i) + (cookie[i] === 'A' ? 'B' : 'A') + cookie.slice(i + 1)
    expect((await ask('/api/now', { cookie: changed })).statusCode, changed).toBe(401)
  }
})

it('goes on to no other site, whatever the address says', async () => {
  const { signIn } = await openService()
  const elsewhere = ['https://evil.example/', '//evil.example', '/\\evil.example', '/.//evil.example', 'javascript:1']
  for (const to of elsewhere) {
    const location = String((await signIn(PASSPHRASE, {}, to)).headers['location'])
    expect(new URL(location, `http://${host}`).origin, to).toBe(`http://${host}`)
  }
})

it('signs out', async () => {
  const { app } = await openService()
  const reply = await app.inject({ method: 'POST', url: '/sign-out', headers: { host } })
  expect([reply.statusCode, reply.headers['location']]).toEqual([303, '/sign-in'])
  expect(cookieOf(reply)).toContain('stepglass=; Path=/; Max-Age=0')
})

it('has the cookie travel over https only when the proxy in front says https, and believes no other', async () => {
  const https = { 'x-forwarded-proto': 'https' }
  const proxied = await openService({ trustProxy: '192.0.2.1' })
  const cookie = cookieOf(await proxied.signIn(PASSPHRASE, https))
  expect(cookie).toMatch(/^__Host-stepglass=.*; Secure$/)
  expect((await proxied.ask('/api/now', { ...https, cookie: cookie.split(';')[0] ?? '' })).statusCode).toBe(200)
  const bare = await openService()
  expect(cookieOf(await bare.signIn(PASSPHRASE, https))).not.toContain('Secure')
})

it("lets no other site's page sign in", async () => {
  const { signIn } = await openService()
  for (const headers of [{ origin: 'https://evil.example' }, { 'sec-fetch-site': 'cross-site' }])
    expect((await signIn(PASSPHRASE, headers)).statusCode).toBe(403)
})

it('makes whoever guesses wait, even with the right one at last, and nobody else', async () => {
  const { app, ask, signIn } = await openService()
  for (let i = 0; i < 5; i++) expect((await signIn(`guess ${i}`)).statusCode).toBe(401)
  for (const reply of [await signIn(PASSPHRASE), await ask('/api/now', { authorization: basic(`a:${PASSPHRASE}`) })]) {
    expect(reply.statusCode).toBe(429)
    expect(Number(reply.headers['retry-after'])).toBeGreaterThan(0)
  }
  const authorization = basic(`a:${PASSPHRASE}`)
  const neighbour = await app.inject({ url: '/api/now', headers: { host, authorization }, remoteAddress: '192.0.2.2' })
  expect(neighbour.statusCode).toBe(200)
})

it('doubles the wait with each wrong attempt up to a quarter of an hour, and forgets after an hour', () => {
  let nowMs = 0
  const attempts = throttle(() => nowMs)
  const waits = Array.from(
    { length: 17 },
    () => (attempts.failed('2001:db8:0:1::5'), attempts.waitS('2001:db8::1:0:0:0:9')),
  )
  expect(waits).toEqual([0, 0, 0, 0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900])
  expect(attempts.waitS('2001:db8:0:2::5')).toBe(0)
  nowMs = 899_500
  expect(attempts.waitS('2001:db8:0:1::5')).toBe(1)
  nowMs = 3_600_001
  expect(attempts.waitS('2001:db8:0:1::5')).toBe(0)
  attempts.failed('192.0.2.1')
  attempts.succeeded('192.0.2.1')
  for (let i = 0; i < 4; i++) attempts.failed('192.0.2.1')
  expect(attempts.waitS('192.0.2.1')).toBe(0)
})

it('remembers no more than ten thousand addresses, the newest ones', () => {
  const attempts = throttle(() => 0)
  const guess = (address: string) => Array.from({ length: 6 }, () => attempts.failed(address))
  guess('192.0.2.1')
  for (let i = 0; i < 10_000; i++) guess(`10.0.${i >> 8}.${i & 255}`)
  expect(attempts.waitS('192.0.2.1')).toBe(0)
  expect(attempts.waitS('10.0.0.0')).toBeGreaterThan(0)
})

it('keeps a session over a restart, ends it after thirty days, and all of them with another passphrase', async () => {
  let nowMs = 1e12
  const now = () => nowMs
  const [gate, again, other] = await Promise.all([
    passphraseGate(PASSPHRASE, now),
    passphraseGate(PASSPHRASE, now),
    passphraseGate(`${PASSPHRASE}.`, now),
  ])
  const { token, maxAgeS } = gate.newSession()
  expect(gate.newSession().token).not.toBe(token)
  expect([gate.isSession(token), again.isSession(token), other.isSession(token)]).toEqual([true, true, false])
  for (const none of ['', '.', 'x'.repeat(5000), token.slice(1), `${token}A`, token.replace('.', '..')])
    expect(gate.isSession(none), none.slice(0, 80)).toBe(false)
  nowMs += maxAgeS * 1000
  expect(gate.isSession(token)).toBe(false)
})

it('takes far longer over a guess than over a passphrase it knows, and looks at two guesses at a time', async () => {
  const gate = await passphraseGate(PASSPHRASE)
  const quickest = async (given: string) => {
    const took: number[] = []
    for (let i = 0; i < 3; i++) {
      const started = performance.now()
      await gate.isRight(given)
      took.push(performance.now() - started)
    }
    return Math.min(...took)
  }
  await gate.isRight(PASSPHRASE)
  const guessMs = await quickest('a guess')
  expect(guessMs).toBeGreaterThan(30)
  expect(await quickest(PASSPHRASE)).toBeLessThan(guessMs / 10)
  const guesses = await Promise.allSettled(['a', 'b', 'c'].map((guess) => gate.isRight(guess)))
  expect(guesses.map(({ status }) => status)).toEqual(['fulfilled', 'fulfilled', 'rejected'])
  expect(guesses[2]).toMatchObject({ reason: expect.any(TooManyGuesses) as TooManyGuesses })
})
