import fc from 'fast-check'
import type { Campaign } from './campaign.js'
import { fromSchema, type JsonSchema } from './from-schema.js'
import { nastyJson, nastyText, sendable } from './nasty.js'
import { fuzzedService, type Request } from './service.js'

interface Operation {
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly schema: JsonSchema }[]
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: JsonSchema }>> }
}
interface Description {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>
  readonly components: { readonly schemas: Readonly<Record<string, JsonSchema>> }
}

/** These draw, mesh or pack for a tenth of a second and more: tried now and then. */
const SLOW = /kit|card\.|coupon\.|traveller|archive|\.png|\.pdf|\.zip/
/** Streams without end. */
const ENDLESS = /progress$/

const header = nastyText.map((text) => text.replaceAll(/[^\t\x20-\xff]/g, '?'))
const headers: fc.Arbitrary<Record<string, string>> = fc.oneof(
  { weight: 6, arbitrary: fc.constant({}) },
  fc.record(
    {
      accept: header,
      'accept-encoding': header,
      'accept-language': header,
      authorization: header,
      cookie: header,
      host: header,
      'if-none-match': header,
      'if-modified-since': header,
      origin: header,
      range: fc.oneof(header, fc.constantFrom('bytes=0-', 'bytes=-1', 'bytes=9-1', `bytes=${'0-1,'.repeat(500)}`)),
      'sec-fetch-site': header,
      'x-forwarded-for': header,
      'x-http-method-override': header,
      'transfer-encoding': header,
      expect: header,
    },
    { requiredKeys: [] },
  ),
)

const textOf = (value: unknown) => (typeof value === 'string' ? value : (JSON.stringify(value) ?? ''))

/** Requests to one route: what its schemas allow, with something in it that they do not. */
function requestsTo(path: string, method: string, operation: Operation, named: Description, ids: readonly string[]) {
  const { schemas } = named.components
  const valueOf = (schema: JsonSchema) =>
    fc.oneof(
      { weight: 3, arbitrary: fromSchema(schema, schemas).map(textOf) },
      { weight: 1, arbitrary: nastyText },
      { weight: 2, arbitrary: fc.constantFrom(...ids) },
    )
  const parameters = operation.parameters ?? []
  const places = parameters.filter((one) => one.in === 'path')
  const asked = parameters.filter((one) => one.in === 'query')
  const query = fc.array(
    asked.length === 0
      ? fc.tuple(nastyText, nastyText)
      : fc.oneof(
          {
            weight: 9,
            arbitrary: fc.oneof(...asked.map(({ name, schema }) => fc.tuple(fc.constant(name), valueOf(schema)))),
          },
          fc.tuple(nastyText, nastyText),
        ),
    { maxLength: 6 },
  )
  const type = Object.keys(operation.requestBody?.content ?? {})[0]
  const schema = type === undefined ? undefined : operation.requestBody?.content[type]?.schema
  const body = schema
    ? fc.oneof(
        { weight: 4, arbitrary: fromSchema(schema, schemas).map((value) => JSON.stringify(value) ?? '') },
        { weight: 1, arbitrary: nastyJson },
      )
    : fc.constant(undefined)
  const contentType = fc.oneof(
    { weight: 12, arbitrary: fc.constant('application/json') },
    fc.constantFrom('text/plain', 'application/xml', 'application/json; charset=utf-7', 'multipart/form-data', ''),
  )
  return fc
    .tuple(fc.tuple(...places.map((one) => valueOf(one.schema))), query, body, contentType, headers)
    .map(([values, pairs, payload, contentType, more]): Request => {
      const filled = places.reduce(
        (url, { name }, i) => url.replace(`{${name}}`, () => encodeURIComponent(sendable(values[i] ?? ''))),
        path,
      )
      const search = new URLSearchParams(pairs.map(([name, value]) => [name, value])).toString()
      return {
        method,
        url: search === '' ? filled : `${filled}?${search}`,
        headers: { host: 'localhost', ...(payload !== undefined && { 'content-type': contentType }), ...more },
        ...(payload !== undefined && { payload }),
      }
    })
}

/** Addresses that lead nowhere, or try to lead out of the folders that are served. */
const addresses: fc.Arbitrary<Request> = fc
  .tuple(
    fc.constantFrom('GET', 'HEAD', 'POST', 'PUT', 'DELETE', 'OPTIONS', 'TRACE', 'PROPFIND'),
    fc.constantFrom('/', '/api/', '/assets/', '/docs/', '/docs/static/', '/s/', '/api/photos/', '/api/readings/'),
    fc.array(nastyText, { minLength: 1, maxLength: 4 }),
    fc.boolean(),
    headers,
  )
  .map(([method, start, parts, encoded, more]) => ({
    method,
    url: start + parts.map((part) => (encoded ? encodeURIComponent(sendable(part)) : part)).join('/'),
    headers: { host: 'localhost', ...more },
  }))

/** Every route of the description, asked for what it takes and for what it should not. */
export async function apiCampaign(): Promise<Campaign<Request>> {
  const service = await fuzzedService()
  const description = (
    await service.app.inject({ url: '/docs/json', headers: { host: 'localhost' } })
  ).json<Description>()
  const ids = [service.known.readingId, service.known.photoId, 'K7Q2XN', 'x']
  const routes = Object.entries(description.paths).flatMap(([path, methods]) =>
    Object.entries(methods)
      .filter(() => !ENDLESS.test(path))
      .map(([method, operation]) => ({
        weight: SLOW.test(path) ? 1 : 40,
        arbitrary: requestsTo(path, method.toUpperCase(), operation, description, ids),
      })),
  )
  return {
    name: 'requests',
    cases: fc.oneof(...routes, { weight: 300, arbitrary: addresses }),
    async try(requests) {
      const answers = []
      for (const request of requests) answers.push(await service.ask(request))
      return {
        outcomes: answers.map(({ outcome }) => outcome),
        findings: answers.flatMap(({ findings }) => findings),
      }
    },
    close: () => service.close(),
  }
}
