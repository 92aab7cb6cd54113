import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { passphraseGate, TooManyGuesses, type PassphraseGate } from '../access/passphrase.js'
import { signInPage, type Attempt } from '../access/sign-in-page.js'
import { throttle } from '../access/throttle.js'
import { cookiesOf } from './cookies.js'
import { ServiceError } from './errors.js'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Answers without the passphrase: the address itself is the secret, or there is none. */
    open?: boolean
  }
}

const SIGN_IN = '/sign-in'
const config = { open: true }
const hide = true

/** What a program sends: the password of HTTP basic authentication (RFC 7617), any name with it, or a bearer token (RFC 6750). */
function passphraseIn(authorization = ''): string | undefined {
  const [, scheme = '', rest = ''] = /^(\S+) +(.*)$/s.exec(authorization) ?? []
  // What stands in a header arrives byte by byte.
  if (scheme.toLowerCase() === 'bearer') return Buffer.from(rest, 'latin1').toString()
  if (scheme.toLowerCase() !== 'basic') return undefined
  return /^[^:]*:(.*)$/s.exec(Buffer.from(rest, 'base64').toString())?.[1]
}

/** `__Host-` has the browser take the cookie over https only, and keep it to this very host (RFC 6265bis, 4.1.3.2). */
const cookieName = ({ protocol }: FastifyRequest) => (protocol === 'https' ? '__Host-stepglass' : 'stepglass')

function setCookie(request: FastifyRequest, reply: FastifyReply, token: string, maxAgeS: number): void {
  const secure = request.protocol === 'https' ? '; Secure' : ''
  const cookie = `${cookieName(request)}=${token}; Path=/; Max-Age=${maxAgeS}; HttpOnly; SameSite=Strict${secure}`
  void reply.header('set-cookie', cookie)
}

function hasSession(gate: PassphraseGate, request: FastifyRequest): boolean {
  return cookiesOf(request, cookieName(request)).some((token) => gate.isSession(token))
}

/** A page of this service to go on to; an address elsewhere is not followed. */
function pageOf(to: unknown): string {
  const here = 'http://here'
  const url = typeof to === 'string' && URL.canParse(to, here) ? new URL(to, here) : undefined
  return url?.origin === here && !url.pathname.startsWith('//') ? `${url.pathname}${url.search}` : '/'
}

const refused = () =>
  new ServiceError(
    401,
    'passphrase',
    'This service needs its passphrase.',
    'Sign in at /sign-in; a program sends the passphrase as a bearer token or as the password of basic authentication.',
  )
const tooMany = () =>
  new ServiceError(429, 'too-many-attempts', 'Too many wrong passphrases.', 'Wait as long as Retry-After says.')

/** Answers nobody who neither signed in nor sends the passphrase; a browser is shown where to sign in. */
export async function requirePassphrase(app: FastifyInstance, passphrase: string): Promise<void> {
  const gate = await passphraseGate(passphrase)
  const attempts = throttle()

  /** Looks at a guess unless it comes too soon. */
  async function attempt(address: string, given: string): Promise<Attempt | 'right'> {
    const waitS = attempts.waitS(address)
    if (waitS > 0) return { waitS }
    try {
      const right = await gate.isRight(given)
      attempts[right ? 'succeeded' : 'failed'](address)
      return right ? 'right' : 'wrong'
    } catch (error) {
      if (error instanceof TooManyGuesses) return { waitS: 1 }
      throw error
    }
  }

  app.addHook('onRequest', async (request, reply) => {
    const { method, headers, routeOptions, url, ip } = request
    if (routeOptions.config.open || hasSession(gate, request)) return
    const given = passphraseIn(headers.authorization)
    const outcome = given === undefined ? 'wrong' : await attempt(ip, given)
    if (outcome === 'right') return
    if (typeof outcome === 'object') {
      void reply.header('retry-after', outcome.waitS)
      throw tooMany()
    }
    // A page; what it loads is only told.
    if (given === undefined && method === 'GET' && headers.accept?.includes('text/html'))
      return reply.redirect(`${SIGN_IN}?to=${encodeURIComponent(pageOf(url))}`, 303)
    // Basic authentication is not offered: a browser would ask for it in a window of its own.
    void reply.header('www-authenticate', 'Bearer realm="Stepglass"')
    throw refused()
  })

  await app.register(async (pages) => {
    pages.addContentTypeParser(
      'application/x-www-form-urlencoded',
      { parseAs: 'string', bodyLimit: 4096 },
      (_request, body, done) => done(null, Object.fromEntries(new URLSearchParams(String(body)))),
    )
    const show = (request: FastifyRequest, reply: FastifyReply, last: Attempt) =>
      reply
        .header('cache-control', 'no-store')
        // With no referrer at all a browser calls the form's origin null, which is refused as foreign.
        .header('referrer-policy', 'same-origin')
        .type('text/html; charset=utf-8')
        .send(signInPage(request.headers['accept-language'] ?? '', last))
    const goOn = (request: FastifyRequest, reply: FastifyReply) =>
      reply.redirect(pageOf((request.query as { to?: unknown }).to), 303)

    pages.get(SIGN_IN, { config, schema: { hide } }, async (request, reply) =>
      hasSession(gate, request) ? goOn(request, reply) : show(request, reply, undefined),
    )

    pages.post(SIGN_IN, { config, schema: { hide } }, async (request, reply) => {
      const given = (request.body as { passphrase?: string } | undefined)?.passphrase ?? ''
      const outcome = await attempt(request.ip, given)
      if (outcome === 'right') {
        const { token, maxAgeS } = gate.newSession()
        setCookie(request, reply, token, maxAgeS)
        return goOn(request, reply)
      }
      if (typeof outcome === 'object') void reply.header('retry-after', outcome.waitS)
      return show(request, reply.code(typeof outcome === 'object' ? 429 : 401), outcome)
    })

    pages.post('/sign-out', { config, schema: { hide } }, async (request, reply) => {
      setCookie(request, reply, '', 0)
      return reply.redirect(SIGN_IN, 303)
    })
  })
}
