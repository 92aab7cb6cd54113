import {
  ASSUMED,
  equalExposureS,
  gritName,
  guessIrradiance,
  planPostCure,
  planSanding,
  prepareResin,
  radiantExposureJPerCm2,
  refuse,
  type Outcome,
} from '../../analysis/index.js'
import type { PostCureBody, PostCureReply, PrepareBody, PrepareReply, SmoothBody, SmoothReply } from '../api/finish.js'
import { cautionsOf, type StepName } from './cautions.js'
import { english } from './words/english.js'

/** A chart shows no more. */
const CURVE_POINTS = 240

const cautions = (step: StepName) => cautionsOf(step, english)
const pair = ([a, b]: readonly [number, number]): [number, number] => [a, b]

/** Stages of post-cure for a lamp known by irradiance or power. */
export function answerPostCure({ lamp, wanted, ...part }: PostCureBody): Outcome<PostCureReply> {
  const { powerW } = lamp
  const guessedFromW = lamp.irradianceMwPerCm2 === undefined ? powerW : undefined
  const irradianceMwPerCm2 = lamp.irradianceMwPerCm2 ?? (powerW && guessIrradiance(powerW))
  if (irradianceMwPerCm2 === undefined) {
    return refuse('lamp-unknown', 'Give the irradiance at the part, or the power of the lamp.')
  }
  if (wanted.kind === 'other-lamp' && powerW === undefined) {
    return refuse('power-unknown', 'Give the power of your lamp too: the time scales with the power.')
  }
  const lightS =
    wanted.kind === 'other-lamp'
      ? equalExposureS(wanted.minutes * 60, wanted.powerW, powerW!)
      : wanted.kind === 'time'
        ? wanted.minutes * 60
        : undefined
  const doseJPerCm2 = wanted.kind === 'dose' ? wanted.doseJPerCm2 : radiantExposureJPerCm2(irradianceMwPerCm2, lightS!)
  const plan = planPostCure({ ...part, irradianceMwPerCm2, guessedFromW, doseJPerCm2 })
  if (!plan.ok) return plan
  const { stages, heat, doseAtDepth, warnings, ...rest } = plan.value
  const every = Math.max(1, Math.ceil(heat.timesS.length / CURVE_POINTS))
  return {
    ok: true,
    value: {
      irradianceMwPerCm2,
      doseJPerCm2,
      stages: stages.map((stage) => ({ ...stage })),
      lightS: rest.lightS,
      totalS: rest.totalS,
      biot: rest.biot,
      trusted: rest.trusted,
      middleShare: rest.middleShare,
      peakC: heat.peakC,
      lumpedPeakC: heat.lumpedPeakC,
      limitC: part.limitC ?? ASSUMED.limitC.value,
      curve: heat.timesS.flatMap((timeS, i) =>
        i % every === 0 || i === heat.timesS.length - 1
          ? {
              timeS,
              hottestC: heat.hottestC[i]!,
              lumpedC: heat.lumpedC[i]!,
              frontDoseJPerCm2: heat.frontDoseJPerCm2[i]!,
            }
          : [],
      ),
      doseAtDepth: doseAtDepth.map((one) => ({ ...one })),
      assumed: [...rest.assumed],
      warnings: [...warnings],
      cautions: cautions('post-cure'),
    },
  }
}

/** Grits from layer steps to clear, with what a coat wins. */
export function answerSmooth(body: SmoothBody): SmoothReply {
  const { step, steps, gain, warnings, assumed: taken, ...rest } = planSanding(body)
  return {
    ...rest,
    step: { ...step },
    steps: steps.map(({ stockUm, marksUm, rmsUm, bareHaze, coatedHaze, ...grit }) => ({
      name: gritName(grit),
      grainUm: grit.grainUm,
      stockUm: pair(stockUm),
      marksUm: pair(marksUm),
      rmsUm: pair(rmsUm),
      bareHaze: pair(bareHaze),
      ...(coatedHaze && { coatedHaze: pair(coatedHaze) }),
    })),
    ...(gain && {
      gain: {
        transmittance: { ...gain.transmittance },
        haze: { bare: pair(gain.haze.bare), coated: pair(gain.haze.coated) },
      },
    }),
    assumed: [...taken],
    warnings: [...warnings],
    cautions: [
      ...cautions('smooth'),
      ...(gain ? cautions('coat').filter(({ id }) => !cautions('smooth').some((one) => one.id === id)) : []),
    ],
  }
}

/** What the resin's temperature does, and how long it stands. */
export function answerPrepare(body: PrepareBody): PrepareReply {
  const { viscosityRatio, bestC, standMin, standWarmMin, warnings, assumed: taken } = prepareResin(body)
  return {
    viscosityRatio: pair(viscosityRatio),
    bestC,
    ...(standMin && { standMin: pair(standMin) }),
    ...(standWarmMin && { standWarmMin: pair(standWarmMin) }),
    assumed: [...taken],
    warnings: [...warnings],
    cautions: cautions('prepare'),
  }
}
