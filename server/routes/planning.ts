import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { expectAt, ladderModel } from '../../analysis/index.js'
import { failures } from '../api/common.js'
import {
  ExpectedQuery,
  ExpectedReply,
  FirstLadderReply,
  FirstLadderRequest,
  LampReply,
  LampRequest,
  LayerHeightReply,
  LayerHeightRequest,
  LevelsReply,
  LevelsRequest,
  WorkingCurveReply,
  WorkingCurveRequest,
} from '../api/planning.js'
import { ReadingParams } from '../api/readings.js'
import { answerFirstLadder, answerLamp, answerLayerHeight, answerLevels, answerWorkingCurve } from '../planning.js'
import { computes, ServiceError } from '../plugins/errors.js'
import type { Service } from '../service.js'
import { readLadder } from './read-ladder.js'
import { valueOf } from './value-of.js'

const tags = ['planning']

/** What to print next: another layer height, lamp or resin, from readings or numbers alone. */
const planning: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service }) => {
  computes(app)

  app.post(
    '/layer-height',
    {
      schema: {
        tags,
        summary: 'Exposure at another layer height',
        body: LayerHeightRequest,
        response: { 200: LayerHeightReply, ...failures },
      },
    },
    async ({ body: { readingIds = [], ...change } }) => {
      if (readingIds.length === 0 && (change.exposureS === undefined || change.fromUm === undefined)) {
        throw new ServiceError(
          400,
          'invalid-request',
          'The body needs either readingIds, or exposureS and fromUm.',
          'Name a reading, or give the exposure and the layer height it is for.',
        )
      }
      return valueOf(answerLayerHeight(await Promise.all(readingIds.map((id) => readLadder(service, id))), change))
    },
  )

  app.post(
    '/working-curve',
    {
      schema: {
        tags,
        summary: 'Penetration depth and critical dose from cure depths',
        body: WorkingCurveRequest,
        response: { 200: WorkingCurveReply, ...failures },
      },
    },
    async ({ body: { table, ...options } }) => valueOf(answerWorkingCurve(table, options)),
  )

  app.post(
    '/ladders/first',
    {
      schema: {
        tags,
        summary: 'The first ladder to print, from what is known',
        body: FirstLadderRequest,
        response: { 200: FirstLadderReply, ...failures },
      },
    },
    async ({ body }) => answerFirstLadder(body),
  )

  app.post(
    '/ladders/levels',
    {
      schema: {
        tags,
        summary: 'Levels of a ladder whose rungs differ in something else than exposure',
        body: LevelsRequest,
        response: { 200: LevelsReply, ...failures },
      },
    },
    async ({ body }) => valueOf(answerLevels(body)),
  )

  app.post(
    '/lamp',
    {
      schema: {
        tags,
        summary: 'Dose of an exposure, and the exposure for it under another irradiance',
        body: LampRequest,
        response: { 200: LampReply, ...failures },
      },
    },
    async ({ body }) => answerLamp(body),
  )

  app.get(
    '/readings/:readingId/expected',
    {
      schema: {
        tags,
        summary: 'What to expect of an exposure at a layer height',
        params: ReadingParams,
        querystring: ExpectedQuery,
        response: { 200: ExpectedReply, ...failures },
      },
    },
    async ({ params: { readingId }, query: { exposureS, layerUm } }) => {
      const model = valueOf(ladderModel(await readLadder(service, readingId)))
      const { survival, accumulatedDose, ...rest } = expectAt(model, exposureS, layerUm ?? model.layerUm)
      return { ...rest, survival: [...survival], accumulatedDose: [...accumulatedDose] }
    },
  )
}
export default planning
