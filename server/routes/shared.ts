import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { Type } from 'typebox'
import { Binary, failures } from '../api/common.js'
import { PaperQuery, SHEET_FORMS } from '../api/sheets.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { sendSheet } from '../sheets/forms.js'

const token = Type.String({ minLength: 32, maxLength: 32, pattern: '^[A-Za-z0-9_-]+$' })
const tags = ['hand on']
const response = { 200: Binary, ...failures }
/** The address is the secret. */
const config = { open: true }

/** Sheets behind a link, for whoever holds it; nothing else is reached from here. */
const shared: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store } }) => {
  app.addHook('onSend', async (_request, reply) => {
    void reply.header('cache-control', 'no-store').header('x-robots-tag', 'noindex, nofollow')
  })

  async function behind(address: string, counted: boolean) {
    const sheet = await store.sheets.behind(address, counted)
    if (sheet) return sheet
    throw new ServiceError(
      404,
      'no-such-link',
      'This link leads nowhere: it has expired, was revoked, or was copied in part.',
      'Ask whoever sent it for a new one.',
    )
  }

  app.get(
    '/:token',
    { config, schema: { tags, summary: 'A shared sheet as a page', params: Type.Object({ token }), response } },
    async ({ params }, reply) => sendSheet(reply, await behind(params.token, true), { form: 'html', shown: true }),
  )

  app.get(
    '/:token/:form',
    {
      config,
      schema: {
        tags,
        summary: 'A shared sheet in another form',
        params: Type.Object({ token, form: Type.Enum([...SHEET_FORMS]) }),
        querystring: PaperQuery,
        response,
      },
    },
    async ({ params, query: { paper } }, reply) =>
      sendSheet(reply, await behind(params.token, false), { form: params.form, paper }),
  )
}
export default shared
