import fastifyStatic from '@fastify/static'
import type { FastifyInstance } from 'fastify'
import { join, sep } from 'node:path'

/** The built page: compressed where the browser takes it, and asked for only once where a file's name tells its content. */
export async function servePage(app: FastifyInstance, webFolder: string): Promise<void> {
  const named = join(webFolder, 'assets') + sep
  await app.register(fastifyStatic, {
    root: webFolder,
    preCompressed: true,
    setHeaders: (reply, path) => {
      if (path.startsWith(named)) void reply.header('cache-control', 'public, max-age=31536000, immutable')
    },
  })
}
