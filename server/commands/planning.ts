import { expectAt, ladderModel, type Factor } from '../../analysis/index.js'
import type { FirstLadderRequest } from '../api/planning.js'
import { answerFirstLadder, answerLamp, answerLayerHeight, answerLevels, answerWorkingCurve } from '../planning.js'
import {
  expectationReport,
  firstLadderReport,
  lampReport,
  layerHeightReport,
  levelsReport,
  workingCurveReport,
} from '../report/planning-report.js'
import { UsageError } from '../usage-error.js'
import { readBytes } from './files.js'
import { readReading, tell } from './reading-file.js'

type Pair = readonly [number, number]

export interface LayerHeightFlags {
  readonly toUm: number
  readonly fromUm?: number
  readonly exposureS?: number
  readonly intervalS?: Pair
  readonly dpUm?: number
  readonly dpIntervalUm?: Pair
  readonly timeStepS?: number
  readonly json?: boolean
}

/** @returns the exit code */
export async function layerHeight(paths: readonly string[], flags: LayerHeightFlags): Promise<number> {
  const { toUm, fromUm, exposureS, intervalS, dpUm, dpIntervalUm, timeStepS, json } = flags
  if (paths.length === 0 && (fromUm === undefined || exposureS === undefined)) {
    throw new UsageError('give a reading, or --from-um and --exposure-s')
  }
  if (dpIntervalUm && dpUm === undefined) throw new UsageError('--dp-interval-um needs --dp-um')
  const readings = await Promise.all(paths.map(readReading))
  const answer = answerLayerHeight(readings, {
    toUm,
    ...(fromUm !== undefined && { fromUm }),
    ...(exposureS !== undefined && { exposureS, intervalS: undefined }),
    ...(intervalS !== undefined && { intervalS }),
    ...(dpUm !== undefined && { depth: { valueUm: dpUm, intervalUm: dpIntervalUm ?? ([dpUm, dpUm] as const) } }),
    timeStepS,
  })
  return tell(answer, json, layerHeightReport)
}

export interface WorkingCurveFlags {
  readonly irradianceMw?: number
  readonly forUm?: number
  readonly json?: boolean
}

/** @param path `-` is standard input. @returns the exit code */
export async function workingCurve(path: string, { irradianceMw, forUm, json }: WorkingCurveFlags): Promise<number> {
  const table = (await readBytes(path === '-' ? '/dev/stdin' : path)).toString()
  return tell(
    answerWorkingCurve(table, { irradianceMwPerCm2: irradianceMw, forDepthUm: forUm }),
    json,
    workingCurveReport,
  )
}

export interface PlanFlags {
  readonly layerUm?: number
  readonly likeS?: number
  readonly likeLayerUm?: number
  readonly dpUm?: number
  readonly ecMj?: number
  readonly irradianceMw?: number
  readonly timeStepS?: number
  readonly betweenS?: number
  readonly factor?: Factor
  readonly from?: number
  readonly to?: number
  readonly rungs?: number
  readonly json?: boolean
}

/** @returns the exit code */
export function plan({ layerUm, timeStepS, betweenS, json, factor, from = 0, to, rungs, ...flags }: PlanFlags): number {
  if (factor) {
    if (to === undefined) throw new UsageError('--factor needs --to, the highest level')
    return tell(answerLevels({ factor, from, to, ...(rungs !== undefined && { rungs }) }), json, levelsReport)
  }
  if (layerUm === undefined) throw new UsageError('a ladder of exposures needs --layer-um')
  const answer = answerFirstLadder({
    layerHeightUm: layerUm,
    known: knownOf(layerUm, flags),
    ...(timeStepS !== undefined && { timeStepS }),
    ...(betweenS !== undefined && { betweenLayersS: betweenS }),
  })
  return tell({ ok: true, value: answer }, json, firstLadderReport)
}

function knownOf(
  layerUm: number,
  { likeS, likeLayerUm, dpUm, ecMj, irradianceMw }: Omit<PlanFlags, 'layerUm'>,
): FirstLadderRequest['known'] {
  const curve = [dpUm, ecMj, irradianceMw]
  if (curve.some((value) => value !== undefined)) {
    if (dpUm === undefined || ecMj === undefined || irradianceMw === undefined) {
      throw new UsageError('a working curve needs --dp-um, --ec-mj and --irradiance-mw together')
    }
    return { kind: 'curve', penetrationDepthUm: dpUm, criticalDoseMjPerCm2: ecMj, irradianceMwPerCm2: irradianceMw }
  }
  return likeS === undefined
    ? { kind: 'nothing' }
    : { kind: 'setting', exposureS: likeS, layerUm: likeLayerUm ?? layerUm }
}

export interface LampFlags {
  readonly exposureS: number
  readonly intervalS?: Pair
  readonly fromMw: number
  readonly toMw: number
  readonly uncertainty?: number
  readonly reason: 'ageing' | 'printer'
  readonly json?: boolean
}

/** @returns the exit code */
export function lamp({ exposureS, intervalS, fromMw, toMw, uncertainty, reason, json }: LampFlags): number {
  const irradiance = (mwPerCm2: number) => ({ mwPerCm2, relativeUncertainty: uncertainty })
  const answer = answerLamp({ exposureS, intervalS, from: irradiance(fromMw), to: irradiance(toMw), reason })
  return tell({ ok: true, value: answer }, json, lampReport)
}

export interface ExpectFlags {
  readonly exposureS: number
  readonly layerUm?: number
  readonly json?: boolean
}

/** @returns the exit code */
export async function expected(path: string, { exposureS, layerUm, json }: ExpectFlags): Promise<number> {
  const model = ladderModel(await readReading(path))
  if (!model.ok) return tell(model, json, () => '')
  const height = layerUm ?? model.value.layerUm
  const value = expectAt(model.value, exposureS, height)
  return tell({ ok: true, value }, json, (found) => expectationReport(found, exposureS, height, model.value.layerUm))
}
