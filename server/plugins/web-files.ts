import fastifyStatic from '@fastify/static'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { join, sep } from 'node:path'
import { cookiesOf } from './cookies.js'

/** What was chosen on the page, else what the browser asks for first of what there is, else English. */
function languageOf(request: FastifyRequest): 'en' | 'de' {
  const accepted = request.headers['accept-language'] ?? ''
  const wished = accepted.split(',').map((tag) => tag.trim().slice(0, 2).toLowerCase())
  return [...cookiesOf(request, 'language'), ...wished].find((tag) => tag === 'en' || tag === 'de') ?? 'en'
}

/** The built page: compressed where the browser takes it, and asked for only once where a file's name tells its content. */
export async function servePage(app: FastifyInstance, webFolder: string): Promise<void> {
  const named = join(webFolder, 'assets') + sep
  await app.register(fastifyStatic, {
    root: webFolder,
    index: false,
    preCompressed: true,
    setHeaders: (reply, path) => {
      if (path.startsWith(named)) void reply.header('cache-control', 'public, max-age=31536000, immutable')
    },
  })
  app.get('/', { schema: { hide: true } }, async (request, reply) =>
    reply.header('vary', 'accept-encoding, accept-language, cookie').sendFile(`index.${languageOf(request)}.html`),
  )
}
