import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { failures, Health } from '../api/common.js'
import type { Service } from '../service.js'

/** Whether the service answers. */
const health: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  app.get(
    '/health',
    { schema: { tags: ['service'], summary: 'Whether the service answers', response: { 200: Health, ...failures } } },
    async () => ({ status: 'ok' as const, readingsWaiting: await service.store.readings.waiting() }),
  )
}
export default health
