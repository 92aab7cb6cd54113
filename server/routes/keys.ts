import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { failures } from '../api/common.js'
import { KeyReply, KnownKey, KnownKeys } from '../api/sheets.js'
import type { Service } from '../service.js'
import { fingerprintOf, publicKeyOf } from '../sheets/signature.js'

const tags = ['hand on']

/** The key that signs here, and those of others. */
const keys: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store } }) => {
  app.get(
    '/signing-key',
    { schema: { tags, summary: 'The public key of this service', response: { 200: KeyReply, ...failures } } },
    async () => {
      const publicKey = publicKeyOf(await store.signing.pem())
      return { publicKey, fingerprint: fingerprintOf(publicKey) }
    },
  )

  app.get(
    '/known-keys',
    {
      schema: {
        tags,
        summary: 'Keys of others, and what they are called here',
        response: { 200: KnownKeys, ...failures },
      },
    },
    async () => ({ keys: await store.sheets.knownKeys() }),
  )

  app.post(
    '/known-keys',
    { schema: { tags, summary: 'Give a key a name', body: KnownKey, response: { 200: KnownKeys, ...failures } } },
    async ({ body }) => {
      await store.sheets.name(body)
      return { keys: await store.sheets.knownKeys() }
    },
  )
}
export default keys
