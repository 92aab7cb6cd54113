import type { FastifyPluginAsync } from 'fastify'
import { failures } from '../api/common.js'
import {
  ListQuery,
  recordKinds,
  recordListOf,
  recordOf,
  RecordParams,
  recordPatchOf,
  type RecordContent,
  type RecordKind,
} from '../api/records.js'
import { ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import type { Store } from '../storage/store.js'

const tags = ['records']

/** Links from one record to another, by the field that carries them. */
const LINKS = { resinId: 'resin', bottleId: 'bottle', printerId: 'printer' } as const satisfies Record<
  string,
  RecordKind
>

/** @throws {ServiceError} if a link leads nowhere */
export async function checkLinks(store: Store, content: object): Promise<void> {
  for (const [field, kind] of Object.entries(LINKS)) {
    const recordId = (content as Record<string, unknown>)[field]
    if (typeof recordId !== 'string' || (await store.records.get(kind, recordId))) continue
    throw new ServiceError(422, `no-such-${kind}`, `There is no ${kind} ${recordId}.`, `Add the ${kind} first.`)
  }
}

/** Resins, bottles, printers, settings: the same routes for each. */
const records: FastifyPluginAsync<{ service: Service }> = async (app, { service: { store } }) => {
  function serve(kind: RecordKind): void {
    const content = recordKinds[kind]
    const path = `/${kind}s`
    const schema = { tags, response: { 200: recordOf(content), ...failures } }
    const found = <Found>(record: Found | undefined, recordId: string): Found => {
      if (record !== undefined) return record
      throw new ServiceError(404, `no-such-${kind}`, `There is no ${kind} ${recordId}.`, `Look for it in /api${path}.`)
    }

    app.get<{ Querystring: ListQuery }>(
      path,
      {
        schema: {
          tags,
          summary: `All ${kind}s, newest first`,
          querystring: ListQuery,
          response: { 200: recordListOf(content), ...failures },
        },
      },
      ({ query }) => store.records.list(kind, query),
    )

    app.post<{ Body: RecordContent }>(
      path,
      {
        schema: {
          tags,
          summary: `Add a ${kind}`,
          body: content,
          response: { 201: recordOf(content), ...failures },
        },
      },
      async ({ body }, reply) => {
        await checkLinks(store, body)
        return reply.code(201).send(await store.records.add(kind, body))
      },
    )

    app.get<{ Params: RecordParams }>(
      `${path}/:recordId`,
      { schema: { ...schema, summary: `One ${kind}`, params: RecordParams } },
      async ({ params: { recordId } }) => found(await store.records.get(kind, recordId), recordId),
    )

    app.patch<{ Params: RecordParams; Body: { content?: RecordContent; archived?: boolean } }>(
      `${path}/:recordId`,
      {
        schema: {
          ...schema,
          summary: `Change a ${kind}, or put it away`,
          params: RecordParams,
          body: recordPatchOf(content),
        },
      },
      async ({ params: { recordId }, body }) => {
        if (body.content) await checkLinks(store, body.content)
        return found(await store.records.change(kind, recordId, body), recordId)
      },
    )

    app.post<{ Params: RecordParams }>(
      `${path}/:recordId/undo`,
      { schema: { ...schema, summary: `Take back the last change of a ${kind}`, params: RecordParams } },
      async ({ params: { recordId } }) => found(await store.records.undo(kind, recordId), recordId),
    )
  }
  for (const kind of Object.keys(recordKinds) as RecordKind[]) serve(kind)
}
export default records
