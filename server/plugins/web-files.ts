import fastifyStatic from '@fastify/static'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { join, sep } from 'node:path'

/** What was chosen on the page, else what the browser asks for first of what there is, else English. */
function languageOf({ headers }: FastifyRequest): 'en' | 'de' {
  const [, chosen] = /(?:^|;\s*)language=(\w+)/.exec(headers.cookie ?? '') ?? []
  const wished = (headers['accept-language'] ?? '').split(',').map((tag) => tag.trim().slice(0, 2).toLowerCase())
  return [chosen, ...wished].find((tag) => tag === 'en' || tag === 'de') ?? 'en'
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
