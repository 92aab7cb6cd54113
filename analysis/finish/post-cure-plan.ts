import { refuse, type Outcome, type Refusal } from '../outcome.js'
import { ASSUMED, assumed, type Assumed } from './assumed.js'
import { doseThroughPlate, type DoseAtDepth } from './dose-at-depth.js'
import { heatPlate, type LitPlate, type PartHeat, type Stage } from './part-heat.js'
import { requirePositive } from './radiant-exposure.js'
import { biotNumber } from './slab-conduction.js'

export type Surroundings = 'still-air' | 'fan' | 'water'

/** Heat transfer coefficient at the part, W/m2K, by what is around it. */
const TRANSFER = { 'still-air': 'stillAirWPerM2K', fan: 'fanWPerM2K', water: 'waterWPerM2K' } as const satisfies Record<
  Surroundings,
  keyof typeof ASSUMED
>

export interface PostCureRequest {
  /** At the part, mW/cm2. */
  readonly irradianceMwPerCm2: number
  /** Power that the irradiance was guessed from, W; absent when it was measured. */
  readonly guessedFromW?: number | undefined
  /** Radiant exposure wanted at each face, J/cm2. */
  readonly doseJPerCm2: number
  /** Between the faces, or twice the depth of the thickest spot. */
  readonly thicknessMm: number
  readonly surroundings: Surroundings
  readonly surroundingsC: number
  /** Hottest the part may get; what the resin's data sheet allows. Default 60, common practice. */
  readonly limitC?: number | undefined
  /** Whether the lamp reaches both faces at once; otherwise the part is turned after each stage. */
  readonly bothSides: boolean
  /** In cured resin, mm. Default 1.5, a guess. */
  readonly penetrationMm?: number | undefined
  /** Resin's own heat still to come, J/cm3. Default 70, from memory. */
  readonly exothermJPerCm3?: number | undefined
}

export interface PostCurePlan {
  readonly stages: readonly Stage[]
  /** Light per face, s. */
  readonly lightS: number
  readonly totalS: number
  readonly heat: PartHeat
  readonly biot: number
  /** The model that may be believed here; conduction decides the stages always. */
  readonly trusted: 'lumped' | 'conduction'
  readonly doseAtDepth: readonly DoseAtDepth[]
  /** Dose in the middle over that at the faces. */
  readonly middleShare: number
  /** What the plan took because nobody gave it. */
  readonly assumed: readonly Assumed[]
  readonly warnings: readonly Refusal[]
}

const LARGEST_LUMPED_BIOT = 0.1
const STAGES_PER_SIDE = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20]
const RESTS_S = [0, 30, 60, 90, 120, 180, 240, 300, 420, 600]
/** Nobody turns a part more often than this, s. */
const SHORTEST_STAGE_S = 15
/** More stages must save this much of the time. */
const WORTH_TURNING = 0.97
const LONGEST_S = 4 * 3600

/** Irradiance at the part from the power of a lamp alone, mW/cm2: 40 W make 20. A guess through and through. */
export const guessIrradiance = (powerW: number): number =>
  (powerW * 1000 * ASSUMED.lightShare.value) / ASSUMED.litCm2.value

/**
 * Stages of light and rest, equal and turned after each, that reach a dose with the part below a limit.
 *
 * Of all numbers of stages and rests the one that ends first, with the fewest stages when two end alike; the computed
 * hottest place by conduction stays under the limit throughout.
 *
 * @returns the plan, or a refusal: `bath-too-warm` when the surroundings are at the limit, `too-long` past
 *   four hours of light, `too-hot` when no stages do
 * @throws {RangeError} if a number is not above 0
 */
export function planPostCure(request: PostCureRequest): Outcome<PostCurePlan> {
  const { irradianceMwPerCm2, doseJPerCm2, thicknessMm, surroundings, surroundingsC, bothSides } = request
  const { limitC = ASSUMED.limitC.value, penetrationMm = ASSUMED.penetrationMm.value } = request
  const { exothermJPerCm3 = ASSUMED.exothermJPerCm3.value } = request
  requirePositive('planPostCure', { irradianceMwPerCm2, doseJPerCm2, thicknessMm, penetrationMm })
  if (surroundingsC >= limitC) {
    return refuse(
      'bath-too-warm',
      'Cool the bath or the room: the part cannot be colder than what is around it.',
      `${surroundingsC} degrees C around, limit ${limitC}`,
    )
  }
  const plate: LitPlate = {
    thicknessMm,
    conductivityWPerMK: ASSUMED.conductivityWPerMK.value,
    heatCapacityJPerM3K: ASSUMED.heatCapacityMJPerM3K.value * 1e6,
    transferWPerM2K: ASSUMED[TRANSFER[surroundings]].value,
    irradianceMwPerCm2,
    penetrationMm,
    exothermJPerCm3,
    exothermDoseJPerCm2: ASSUMED.exothermDoseJPerCm2.value,
    surroundingsC,
  }
  const lightS = (doseJPerCm2 * 1000) / irradianceMwPerCm2
  if (lightS * (bothSides ? 1 : 2) > LONGEST_S) {
    return refuse(
      'too-long',
      'Take a stronger lamp or move it nearer: the light alone takes longer than four hours.',
      `${Math.round(lightS / 60)} min a face`,
    )
  }
  const stages = coolestFirst(plate, lightS, bothSides, limitC)
  if (!stages) {
    return refuse(
      'too-hot',
      surroundings === 'water'
        ? 'Weaken the lamp or move it away: even short stages in water pass the limit.'
        : 'Cure under cool water, weaken the lamp or move it away: even short stages with long rests pass the limit.',
      `${irradianceMwPerCm2} mW/cm2 for ${Math.round(lightS)} s a face, limit ${limitC} degrees C`,
    )
  }
  const heat = heatPlate(plate, stages)
  const biot = biotNumber(plate)
  const doseAtDepth = doseThroughPlate(doseJPerCm2, thicknessMm, penetrationMm)
  const middleShare = doseAtDepth[doseAtDepth.length >> 1]!.bothJPerCm2 / doseAtDepth[0]!.bothJPerCm2
  return {
    ok: true,
    value: {
      stages,
      lightS: stages.reduce((sum, { onS, side }) => sum + (side === 'back' ? 0 : onS), 0),
      totalS: stages.reduce((sum, { onS, restS }) => sum + onS + restS, 0),
      heat,
      biot,
      trusted: biot < LARGEST_LUMPED_BIOT ? 'lumped' : 'conduction',
      doseAtDepth,
      middleShare,
      assumed: assumedOf(request),
      warnings: warningsOf(request, middleShare),
    },
  }
}

/** The stages that end first under the limit; none when no number of stages and rest does. */
function coolestFirst(plate: LitPlate, lightS: number, bothSides: boolean, limitC: number): Stage[] | undefined {
  let best: { stages: Stage[]; totalS: number } | undefined
  for (const count of STAGES_PER_SIDE) {
    const onS = wholeSeconds(lightS / count)
    if (count > 1 && onS < SHORTEST_STAGE_S) break
    const build = (restS: number) => stagesOf(count, onS, restS, bothSides)
    const cool = (restS: number) => {
      const stages = build(restS)
      // Coarser than what is shown: a step of 2 s moves the peak by less than the model is good for.
      return totalOf(stages) <= LONGEST_S && heatPlate(plate, stages, lightS > 3600 ? 4 : 2, 16).peakC <= limitC - 0.5
    }
    const shorter = (stages: Stage[]) => !best || totalOf(stages) < WORTH_TURNING * best.totalS
    const rest = RESTS_S.find((restS) => (shorter(build(restS)) ? cool(restS) : true))
    if (rest === undefined) continue
    const stages = build(rest)
    if (shorter(stages)) best = { stages, totalS: totalOf(stages) }
  }
  return best?.stages
}

/** Rounded, unless that would lose more than a hundredth of the light. */
const wholeSeconds = (s: number) => (Math.round(s) < 0.99 * s ? Math.ceil(s) : Math.round(s))

const totalOf = (stages: readonly Stage[]) => stages.reduce((sum, { onS, restS }) => sum + onS + restS, 0)

function stagesOf(perSide: number, onS: number, restS: number, bothSides: boolean): Stage[] {
  const count = bothSides ? perSide : 2 * perSide
  return Array.from({ length: count }, (_, i) => ({
    onS,
    restS: i === count - 1 ? 0 : restS,
    side: bothSides ? 'both' : i % 2 === 0 ? 'front' : 'back',
  }))
}

const assumedOf = ({
  guessedFromW,
  penetrationMm,
  exothermJPerCm3,
  limitC,
  surroundings,
}: PostCureRequest): Assumed[] =>
  assumed(
    ...(guessedFromW === undefined ? [] : (['lightShare', 'litCm2'] as const)),
    ...(penetrationMm === undefined ? (['penetrationMm'] as const) : []),
    ...(exothermJPerCm3 === undefined ? (['exothermJPerCm3'] as const) : []),
    'exothermDoseJPerCm2',
    'conductivityWPerMK',
    'heatCapacityMJPerM3K',
    TRANSFER[surroundings],
    ...(limitC === undefined ? (['limitC'] as const) : []),
  )

function warningsOf(request: PostCureRequest, middleShare: number): Refusal[] {
  const { guessedFromW, irradianceMwPerCm2 } = request
  return [
    ...(guessedFromW === undefined
      ? []
      : [
          refuse(
            'irradiance-guessed',
            'Measure the irradiance where the part lies: the temperature rests on a guess from the power.',
            `${irradianceMwPerCm2.toPrecision(2)} mW/cm2 guessed from ${guessedFromW} W`,
          ).refusal,
        ]),
    refuse(
      'guessed-values',
      'Take the computed temperature as a guess until a thermometer on a first part agrees with it.',
    ).refusal,
    ...(middleShare < 0.5
      ? [
          refuse(
            'middle-underdosed',
            'The middle of the part gets less than half the light of its faces. More time yellows the faces before it cures the middle.',
            `${Math.round(100 * middleShare)} % of the dose at the faces`,
          ).refusal,
        ]
      : []),
    ...(request.surroundings === 'water'
      ? [
          refuse(
            'dry-after-water',
            'Dry the part well after curing under water, or it may swell and turn milky. Use clean water and treat it as resin waste.',
          ).refusal,
        ]
      : []),
  ]
}
