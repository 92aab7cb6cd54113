import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { failures } from '../api/common.js'
import { Health } from '../api/health.js'
import type { Service } from '../service.js'
import { startLines } from '../storage/start-lines.js'

/** Whether the service answers. */
const health: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  app.get(
    '/health',
    { schema: { tags: ['service'], summary: 'Whether the service answers', response: { 200: Health, ...failures } } },
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
}
export default health
