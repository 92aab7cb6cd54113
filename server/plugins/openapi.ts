import swagger from '@fastify/swagger'
import swaggerUi from '@fastify/swagger-ui'
import type { FastifyInstance } from 'fastify'

/** The description of every route, made from its schemas: /docs for people, /docs/json for programs. */
export async function describeRoutes(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    // Schemas go by their own names.
    refResolver: {
      buildLocalReference: ({ $id }, _uri, _fragment, i) => (typeof $id === 'string' ? $id : `Schema${i}`),
    },
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Stepglass',
        version: '1',
        description: 'Reads a printed exposure ladder from one photograph and says which exposure to use.',
      },
      tags: [
        { name: 'readings', description: 'photographs and what they say' },
        { name: 'ladders', description: 'what is planned and printed' },
        { name: 'records', description: 'resins, bottles, printers, settings' },
        { name: 'hand on', description: 'settings as sheets and labels, and those of others' },
        { name: 'planning', description: 'what to print next: another layer height, lamp or resin' },
        { name: 'service' },
      ],
    },
  })
  await app.register(swaggerUi, { routePrefix: '/docs' })
}
