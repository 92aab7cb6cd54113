import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { STATUS_CODES } from 'node:http'
import type { ErrorReply } from '../api/common.js'
import { storageTrouble } from '../storage/trouble.js'

/** A failure that is told to whoever asked. */
export class ServiceError extends Error {
  readonly statusCode: number
  readonly code: string
  readonly advice: string

  constructor(statusCode: number, code: string, message: string, advice: string, options?: ErrorOptions) {
    super(message, options)
    this.statusCode = statusCode
    this.code = code
    this.advice = advice
  }
}

/** The row of a photograph is there, its file is not. */
export const photoMissing = () =>
  new ServiceError(
    404,
    'photo-missing',
    'The file of this photograph is missing in the data folder.',
    'Upload the same photograph again, or put its file back from a backup. What was read from it is kept.',
  )

const ADVICE: Readonly<Record<number, string>> = {
  400: 'The page /docs lists what may be asked, and how.',
  404: 'Check the address; the page /docs lists what may be asked.',
  413: 'Send less at once; the page /docs lists what may be sent.',
  415: 'The page /docs lists which kinds of content may be sent.',
}

const ONE_PHOTO = 'Send one file as the field "photo" of a multipart form, and its options as further fields.'
const tooManyParts = () => new ServiceError(400, 'invalid-request', 'The form has too many parts.', ONE_PHOTO)

/** What the form reader reports, in our words. */
const UPLOAD_ERRORS: Readonly<Record<string, () => ServiceError>> = {
  FST_REQ_FILE_TOO_LARGE: () =>
    new ServiceError(
      413,
      'photo-too-large',
      'The photograph is larger than 60 MB.',
      'Send it as the phone saved it, as JPEG or HEIC, not as a raw file.',
    ),
  FST_INVALID_MULTIPART_CONTENT_TYPE: () =>
    new ServiceError(415, 'not-a-form', 'A photograph is sent as a multipart form.', ONE_PHOTO),
  FST_FILES_LIMIT: tooManyParts,
  FST_FIELDS_LIMIT: tooManyParts,
  FST_PARTS_LIMIT: tooManyParts,
}

const internal: ErrorReply = {
  code: 'internal',
  message: 'Something went wrong inside Stepglass.',
  advice: 'Try again. If it happens again, the log of the service says more.',
}

interface SchemaError {
  readonly keyword: string
  readonly instancePath: string
  readonly params: Readonly<Record<string, unknown>>
  readonly message?: string
}

/** All that a schema found wrong, in one line; an unknown field is named. */
export function describeSchemaErrors(errors: readonly SchemaError[], part: string): string {
  const unknown = errors.flatMap(({ keyword, instancePath, params }) =>
    keyword === 'additionalProperties' && Array.isArray(params['additionalProperties'])
      ? params['additionalProperties'].map((name) => `${part}${instancePath}/${name} is not known`)
      : [],
  )
  const others = errors
    .filter(({ keyword }) => keyword !== 'additionalProperties' && keyword !== 'boolean')
    .map(({ instancePath, message }) => `${part}${instancePath} ${message ?? 'is not as it should be'}`)
  return [...new Set([...unknown, ...others])].join('; ')
}

/** Paths of all that a schema found wrong, without the part of the request they stand in. */
const fieldsOf = (errors: readonly SchemaError[]): string[] => [
  ...new Set(
    errors.flatMap(({ keyword, instancePath, params }) => {
      if (keyword === 'boolean') return []
      const { additionalProperties: unknown, requiredProperties: missing } = params
      const below = [unknown, missing].find(Array.isArray) as readonly string[] | undefined
      return below ? below.map((name) => `${instancePath}/${name}`) : [instancePath]
    }),
  ),
]
interface WithFields extends Error {
  readonly fields?: readonly string[]
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Computes with numbers of the request: some of those that are allowed have no finite result. */
    computes?: boolean
  }
}

/** Has what all routes of a plugin cannot compute be answered as such. */
export function computes(app: FastifyInstance): void {
  app.addHook('onRoute', (route) => {
    route.config = { ...route.config, computes: true }
  })
}

/** A computation that broke off at a number, or a result that no JSON can hold. */
const isBeyondNumbers = (error: FastifyError, { routeOptions }: FastifyRequest) =>
  routeOptions.config.computes === true &&
  (error instanceof RangeError || /does not match schema|cannot be converted to a number/.test(error.message))

const beyondNumbers = () =>
  new ServiceError(
    422,
    'beyond-numbers',
    'With these numbers the calculation leaves what can be computed.',
    'Check the numbers and their units.',
  )

/** The reader of forms reports what is wrong with one as a bare error. */
const isDamagedForm = (error: FastifyError, request: FastifyRequest) =>
  Object.getPrototypeOf(error) === Error.prototype &&
  !error.code &&
  /^multipart\/form-data/i.test(request.headers['content-type'] ?? '')

const damagedForm = () =>
  new ServiceError(
    400,
    'damaged-form',
    'The form broke off or is not put together as one.',
    'Send it again as a whole.',
  )

function replyFor(error: FastifyError, request: FastifyRequest): { status: number; reply: ErrorReply } {
  const known = () => {
    if (isDamagedForm(error, request)) return damagedForm()
    if (isBeyondNumbers(error, request)) return beyondNumbers()
    return UPLOAD_ERRORS[error.code]?.()
  }
  const told = error instanceof ServiceError ? error : known()
  if (told) {
    const { statusCode, code, message, advice } = told
    return { status: statusCode, reply: { code, message, advice } }
  }
  const trouble = storageTrouble(error)
  if (trouble) return { status: trouble.statusCode, reply: trouble.reply }
  const status = error.validation ? 400 : (error.statusCode ?? 500)
  const advice = ADVICE[status] ?? ADVICE[400]
  if (status >= 500 || !advice) return { status: 500, reply: internal }
  const code = error.validation
    ? 'invalid-request'
    : (STATUS_CODES[status] ?? 'refused').toLowerCase().replaceAll(' ', '-')
  const { fields } = error as WithFields
  return { status, reply: { code, message: error.message, advice, ...(fields && { fields: [...fields] }) } }
}

/** Requests that reach no route: their address or their line of HTTP is none. */
export function answerUnreadable(error: FastifyError, _request: FastifyRequest, reply: FastifyReply): void {
  const message = 'The address of the request cannot be read.'
  void reply
    .code(error.statusCode ?? 400)
    .type('application/json; charset=utf-8')
    .send(JSON.stringify({ code: 'bad-request', message, advice: ADVICE[404] ?? '' } satisfies ErrorReply))
}

/** Every failure is answered as `ErrorReply`; what is ours to mend is told to the log only. */
export function answerErrors(app: FastifyInstance): void {
  app.setSchemaErrorFormatter((errors, part): WithFields =>
    Object.assign(new Error(describeSchemaErrors(errors, part)), { fields: fieldsOf(errors) }),
  )
  app.setErrorHandler<FastifyError>(async (error, request, reply) => {
    const { status, reply: answer } = replyFor(error, request)
    if (status >= 500) request.log.error({ err: error })
    else request.log.info({ code: answer.code, cause: error.message })
    return reply.code(status).send(answer)
  })
  app.setNotFoundHandler(async (request) => {
    throw new ServiceError(
      404,
      'not-found',
      `There is no ${request.method} ${request.url.split('?')[0]}.`,
      ADVICE[404] ?? '',
    )
  })
}
