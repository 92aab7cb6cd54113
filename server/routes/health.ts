import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { failures, State } from '../api/common.js'
import { Health } from '../api/health.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { startLines } from '../storage/start-lines.js'

const tags = ['service']
/** Whoever keeps the service running has no passphrase, and is told nothing but these words. */
const config = { open: true }

/** Whether the service answers, for people and for what watches over it. */
const health: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  app.get(
    '/health',
    { schema: { tags, summary: 'Whether the service answers', response: { 200: Health, ...failures } } },
    async () => {
      const { store } = service
      const found = await store.trouble()
      return {
        status: found ? ('impaired' as const) : ('ok' as const),
        readingsWaiting: await store.readings.waiting(),
        ...(found && { trouble: found }),
        started: store.started,
        startedInWords: startLines(store.started),
      }
    },
  )

  app.get(
    '/live',
    { config, schema: { tags, summary: 'The process answers; if not, start it anew', response: { 200: State } } },
    async () => ({ status: 'live' as const }),
  )

  app.get(
    '/ready',
    {
      config,
      schema: {
        tags,
        summary: 'Requests can be sent to it: its records answer',
        response: { 200: State, ...failures },
      },
    },
    async (request) => {
      await service.store.readings.waiting().catch((error: unknown) => {
        request.log.error({ err: error })
        throw new ServiceError(503, 'not-ready', 'The records do not answer.', 'The log of the service says why.')
      })
      return { status: 'ready' as const }
    },
  )
}
export default health
