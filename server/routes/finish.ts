import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import type { ReadLadder } from '../../analysis/index.js'
import { Binary, failures } from '../api/common.js'
import {
  PostCureBody,
  PostCureReply,
  PrepareBody,
  PrepareReply,
  ProcessLadderBody,
  ProcessLadderReply,
  SmoothBody,
  SmoothReply,
  StepsQuery,
  StepsReply,
  TravellerBody,
} from '../api/finish.js'
import type { Resin } from '../api/records.js'
import { answerPostCure, answerPrepare, answerSmooth } from '../finish/answers.js'
import { answerProcessLadder } from '../finish/process-answer.js'
import { processReadings } from '../finish/process-readings.js'
import { finishSteps } from '../finish/steps.js'
import { finishWords } from '../finish/words/finish-words.js'
import { computes, ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { readLadder } from './read-ladder.js'
import { valueOf } from './value-of.js'

const tags = ['finish']

/** The steps after printing: what to do, how long, what to expect. */
const finish: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  computes(app)

  /** @throws {ServiceError} if the record is not there */
  async function sheetOf(resinId: string | undefined): Promise<Resin | undefined> {
    if (resinId === undefined) return undefined
    const record = await service.store.records.get('resin', resinId)
    if (record) return record.content as Resin
    throw new ServiceError(404, 'no-such-resin', `There is no resin ${resinId}.`, 'Look for it in /api/resins.')
  }

  app.get(
    '/finish/steps',
    {
      schema: {
        tags,
        summary: 'Steps of a clear part, with cautions; lines and waits by the data sheet of a resin',
        querystring: StepsQuery,
        response: { 200: StepsReply, ...failures },
      },
    },
    async ({ query: { language = 'en', resinId } }) => {
      const words = finishWords[language]
      return { first: words.first, steps: finishSteps(words, await sheetOf(resinId)) }
    },
  )

  app.post(
    '/finish/post-cure',
    {
      schema: {
        tags,
        summary: 'Stages of light and rest that keep the part cool',
        body: PostCureBody,
        response: { 200: PostCureReply, ...failures },
      },
    },
    async ({ body }) => valueOf(answerPostCure(body)),
  )

  app.post(
    '/finish/smooth',
    {
      schema: {
        tags,
        summary: 'Grits from layer steps to clear, and what a coat wins',
        body: SmoothBody,
        response: { 200: SmoothReply, ...failures },
      },
    },
    async ({ body }) => answerSmooth(body),
  )

  app.post(
    '/finish/prepare',
    {
      schema: {
        tags,
        summary: 'Viscosity and standing time of the resin as it is',
        body: PrepareBody,
        response: { 200: PrepareReply, ...failures },
      },
    },
    async ({ body }) => answerPrepare(body),
  )

  app.post(
    '/finish/process-ladder',
    {
      schema: {
        tags,
        summary: 'What a ladder says whose rungs differ in post-cure, grit, coat, standing, temperature or age',
        body: ProcessLadderBody,
        response: { 200: ProcessLadderReply, ...failures },
      },
    },
    async ({ body: { factor, of, coupons } }) => {
      const readings = new Map<string, ReadLadder>()
      for (const { readingId } of coupons) {
        if (!readings.has(readingId)) readings.set(readingId, await readLadder(service, readingId))
      }
      return valueOf(answerProcessLadder(factor, of, valueOf(processReadings(readings, of, coupons))))
    },
  )

  app.post(
    '/finish/traveller.pdf',
    {
      schema: {
        tags,
        summary: 'The route of one part on one page, with boxes to tick',
        body: TravellerBody,
        response: { 200: Binary, ...failures },
        produces: ['application/pdf'],
      },
    },
    async ({ body }, reply) => {
      const { travellerPdf } = await import('../printables/traveller-pdf.js')
      reply.type('application/pdf').header('content-disposition', 'attachment; filename="stepglass-traveller.pdf"')
      return reply.send(await travellerPdf(body, await sheetOf(body.resinId)))
    },
  )
}
export default finish
