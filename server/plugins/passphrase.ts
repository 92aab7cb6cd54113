import { createHash, timingSafeEqual } from 'node:crypto'
import type { FastifyInstance } from 'fastify'
import { ServiceError } from './errors.js'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Answers without the passphrase: the address itself is the secret. */
    open?: boolean
  }
}

const digest = (text: string) => createHash('sha256').update(text).digest()

/** The password of HTTP basic authentication (RFC 7617); whichever name comes with it. */
function passwordOf(authorization = ''): string | undefined {
  const [scheme = '', credentials = ''] = authorization.split(' ')
  if (scheme.toLowerCase() !== 'basic') return undefined
  return /^[^:]*:(.*)$/s.exec(Buffer.from(credentials, 'base64').toString())?.[1]
}

/** Answers nobody who does not send the passphrase. A browser asks for it by itself, and sends it with all it loads. */
export function requirePassphrase(app: FastifyInstance, passphrase: string): void {
  const expected = digest(passphrase)
  app.addHook('onRequest', async ({ headers, routeOptions }, reply) => {
    if (routeOptions.config.open) return
    const given = passwordOf(headers.authorization)
    // Digests, for equal lengths: the time it takes tells nothing of how much was right.
    if (given !== undefined && timingSafeEqual(digest(given), expected)) return
    void reply.header('www-authenticate', 'Basic realm="Stepglass: any name, and the passphrase", charset="UTF-8"')
    throw new ServiceError(
      401,
      'passphrase',
      'This service needs its passphrase.',
      'Enter any name, and the passphrase that the service showed when it started.',
    )
  })
}
