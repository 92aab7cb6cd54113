import helmet from '@fastify/helmet'
import type { FastifyInstance } from 'fastify'
import { ServiceError } from './errors.js'

const hostOf = (origin: string) => (URL.canParse(origin) ? new URL(origin).host : undefined)
const nameOf = (host: string) => hostOf(`http://${host}`)?.replace(/:\d+$/, '')
const LOOPBACK = new Set(['localhost', '127.0.0.1', '[::1]'])

export const isLoopback = (host: string): boolean => LOOPBACK.has(host) || host === '::1'

const foreign = (origin: string) =>
  new ServiceError(
    403,
    'foreign-origin',
    `Pages of ${origin} may not use this service.`,
    'Use the page that the service itself shows.',
  )

export interface SafetyOptions {
  /** Whether the service is for this machine alone. Then it answers to no other name, which stops DNS rebinding. */
  readonly loopbackOnly: boolean
}

/** Headers for the browser, and no other site's page may use the service through it. */
export async function keepSafe(app: FastifyInstance, { loopbackOnly }: SafetyOptions): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      directives: {
        defaultSrc: ["'self'"],
        scriptSrc: ["'self'"],
        // Drawing libraries set style elements; scripts inline stay forbidden.
        styleSrc: ["'self'", "'unsafe-inline'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        // The service speaks plain http: it is not for the open network.
        upgradeInsecureRequests: null,
      },
    },
    hsts: false,
  })

  // Cookies of ours never come with what another site's page asks for; nor shall what needs none.
  app.addHook('onRequest', async ({ headers, method }) => {
    const opensPage = method === 'GET' && headers['sec-fetch-mode'] === 'navigate'
    if (headers['sec-fetch-site'] === 'cross-site' && !opensPage) throw foreign('another site')
  })

  app.addHook('onRequest', async ({ headers, method }) => {
    const host = headers.host ?? ''
    if (loopbackOnly && !LOOPBACK.has(nameOf(host) ?? ''))
      throw new ServiceError(
        403,
        'foreign-name',
        `This service does not answer as "${host}".`,
        'Open it as http://localhost with its port.',
      )
    const { origin } = headers
    // In development the interface comes from another port of this machine.
    const own = (page: string) =>
      hostOf(page) === host || (loopbackOnly && LOOPBACK.has(nameOf(hostOf(page) ?? '') ?? ''))
    if (method !== 'GET' && method !== 'HEAD' && origin !== undefined && !own(origin)) throw foreign(origin)
  })
}
