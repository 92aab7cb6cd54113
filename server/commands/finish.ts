import type { Factor, ProcessOf, ReadLadder } from '../../analysis/index.js'
import type { PostCureBody, TravellerBody } from '../api/finish.js'
import { answerPostCure, answerPrepare, answerSmooth } from '../finish/answers.js'
import type { StepName } from '../finish/cautions.js'
import { answerProcessLadder } from '../finish/process-answer.js'
import { processReadings, type ProcessCoupon } from '../finish/process-readings.js'
import { STEP_NAMES } from '../finish/steps.js'
import type { FinishLanguage } from '../finish/words/finish-words.js'
import { postCureReport, prepareReport, smoothReport } from '../report/finish-report.js'
import { processReport } from '../report/process-report.js'
import { UsageError } from '../usage-error.js'
import { writeResult } from './files.js'
import { readReading, tell } from './reading-file.js'

interface Json {
  readonly json?: boolean
}

export interface PostCureFlags extends Json {
  readonly irradianceMw?: number
  readonly powerW?: number
  readonly dose?: number
  readonly minutes?: number
  readonly givenForW?: number
  readonly thicknessMm: number
  readonly in: PostCureBody['surroundings']
  readonly at: number
  readonly bothSides?: boolean
  readonly limit?: number
  readonly penetrationMm?: number
}

/** @returns the exit code */
export function postCure(flags: PostCureFlags): number {
  const { irradianceMw, powerW, limit, penetrationMm, json } = flags
  const answer = answerPostCure({
    lamp: {
      ...(irradianceMw !== undefined && { irradianceMwPerCm2: irradianceMw }),
      ...(powerW !== undefined && { powerW }),
    },
    wanted: wantedOf(flags),
    thicknessMm: flags.thicknessMm,
    surroundings: flags.in,
    surroundingsC: flags.at,
    bothSides: flags.bothSides ?? false,
    ...(limit !== undefined && { limitC: limit }),
    ...(penetrationMm !== undefined && { penetrationMm }),
  })
  return tell(answer, json, postCureReport)
}

function wantedOf({ dose, minutes, givenForW }: PostCureFlags): PostCureBody['wanted'] {
  if ((dose === undefined) === (minutes === undefined)) throw new UsageError('give either --dose or --minutes')
  if (dose !== undefined) return { kind: 'dose', doseJPerCm2: dose }
  return givenForW === undefined
    ? { kind: 'time', minutes: minutes! }
    : { kind: 'other-lamp', minutes: minutes!, powerW: givenForW }
}

export interface SmoothFlags extends Json {
  readonly layerUm: number
  readonly wallDegrees: number
  readonly pixelUm?: number
  readonly scale: 'P' | 'JIS'
  readonly ratio?: number
  readonly index?: number
  readonly coatIndex?: number
  readonly haze?: number
}

/** @returns the exit code */
export function smooth({ json, haze, ...request }: SmoothFlags): number {
  if (request.wallDegrees > 90) throw new UsageError('--wall-degrees must be from 0 to 90')
  if (request.ratio !== undefined && request.ratio <= 1) throw new UsageError('--ratio must be above 1')
  const value = answerSmooth({ ...request, ...(haze !== undefined && { acceptedHaze: haze }) })
  return tell({ ok: true, value }, json, smoothReport)
}

export interface PrepareFlags extends Json {
  readonly resinC: number
  readonly viscosity?: number
  readonly viscosityAt?: number
  readonly depthMm?: number
  readonly bubbleUm?: number
}

/** @returns the exit code */
export function prepare({ resinC, viscosity, viscosityAt, depthMm, bubbleUm, json }: PrepareFlags): number {
  const value = answerPrepare({
    resinC,
    ...(viscosity !== undefined && { viscosityMPaS: viscosity }),
    ...(viscosityAt !== undefined && { viscosityAtC: viscosityAt }),
    ...(depthMm !== undefined && { depthMm }),
    ...(bubbleUm !== undefined && { bubbleUm }),
  })
  return tell({ ok: true, value }, json, prepareReport)
}

export interface ProcessFlags extends Json {
  readonly factor: Factor
  readonly of: keyof typeof RESPONSES
  /** `file#slot=level`, in the order of the process. */
  readonly coupon: readonly string[]
}

const RESPONSES = { haze: 'haze', yellowness: 'yellownessPerMm', growth: 'growthUm' } as const satisfies Record<
  string,
  ProcessOf
>

/** @returns the exit code */
export async function processLadder({ factor, of, coupon, json }: ProcessFlags): Promise<number> {
  const coupons = coupon.map((text): ProcessCoupon => {
    const [, readingId, slot, level] = /^(.+)#(\d+)=(.+)$/.exec(text) ?? []
    if (!readingId || !level) throw new UsageError(`--coupon must be FILE#SLOT=LEVEL, such as a.json#3=10; got ${text}`)
    return { readingId, slot: Number(slot), level }
  })
  const readings = new Map<string, ReadLadder>()
  for (const { readingId } of coupons) readings.set(readingId, await readReading(readingId))
  const found = processReadings(readings, RESPONSES[of], coupons)
  const answer = found.ok ? answerProcessLadder(factor, RESPONSES[of], found.value) : found
  return tell(answer, json, processReport)
}

export interface TravellerFlags {
  readonly part: string
  readonly resin?: string
  readonly paper: 'a4' | 'letter'
  readonly language: FinishLanguage
  readonly steps?: string
  /** `step=minutes` */
  readonly minutes: readonly string[]
  /** `step=what to do` */
  readonly note: readonly string[]
  readonly output?: string
}

/** The route of a part as a file. */
export async function traveller(flags: TravellerFlags): Promise<void> {
  const { part, resin, paper, language, steps, minutes, note, output } = flags
  const stepName = (text: string | undefined): StepName => {
    const name = STEP_NAMES.find((one) => one === text)
    if (!name) throw new UsageError(`there is no step ${text}; steps are ${STEP_NAMES.join(', ')}`)
    return name
  }
  const chosen = steps === undefined ? STEP_NAMES : steps.split(',').map(stepName)
  const split = (text: string): [StepName, string] => {
    const [name, ...rest] = text.split('=')
    return [stepName(name), rest.join('=')]
  }
  const times = new Map(minutes.map(split))
  const notes = note.map(split)
  const body: TravellerBody = {
    part,
    ...(resin !== undefined && { resin }),
    paper,
    language,
    steps: chosen.map((name) => {
      const given = Number(times.get(name))
      if (times.has(name) && !(given >= 0)) throw new UsageError(`--minutes must be STEP=MINUTES, such as print=240`)
      return {
        name,
        ...(times.has(name) && { minutes: given }),
        notes: notes.flatMap(([step, text]) => (step === name ? text : [])),
      }
    }),
  }
  const { travellerPdf } = await import('../printables/traveller-pdf.js')
  await writeResult(output ?? 'stepglass-traveller.pdf', await travellerPdf(body))
}
