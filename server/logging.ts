import type { FastifyRequest } from 'fastify'
import type { Configuration } from './configuration.js'

/** Of an address only what tells nobody a secret: links to sheets are ones. */
const loggedPath = (url: string) => (url.split('?')[0] ?? '').replace(/^\/s\/[^/]*/, '/s/...')

/** A log as lines of JSON on standard error. */
export const loggerFor = (level: Configuration['LOG_LEVEL']) => ({
  level,
  stream: process.stderr,
  serializers: {
    req: ({ method, url, ip }: FastifyRequest) => ({ method, path: loggedPath(url), from: ip }),
  },
})
