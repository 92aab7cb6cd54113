import Fastify, { type FastifyInstance } from 'fastify'
import fastifyStatic from '@fastify/static'

export interface AppOptions {
  /** Folder of the built interface. */
  readonly webFolder: string
  /** Whether requests are logged. Default: false. */
  readonly logger?: boolean
}

/** The whole service, all but listening. */
export async function buildApp({ webFolder, logger = false }: AppOptions): Promise<FastifyInstance> {
  const app = Fastify({ logger })
  await app.register(fastifyStatic, { root: webFolder })
  return app
}
