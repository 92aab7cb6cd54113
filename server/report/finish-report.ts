import type { PostCureReply, PrepareReply, SmoothReply } from '../api/finish.js'
import { inMinutes } from '../finish/traveller.js'
import { english } from '../finish/words/english.js'
import { short } from './numbers.js'
import { tableLines } from './table.js'

type Assumed = PostCureReply['assumed'][number]

/** A value that is neither given nor read is flagged for what it is. */
const HEADS: Readonly<Record<Assumed['basis'], string>> = {
  guess: 'Guess',
  memory: 'From memory',
  practice: 'Practice',
  published: 'Published',
}
const NAMES: Readonly<Record<Assumed['what'], string>> = {
  penetrationMm: 'depth at which 1/e of the light is left in the cured resin',
  exothermJPerCm3: 'heat that curing still sets free',
  exothermDoseJPerCm2: 'dose over which that heat comes',
  conductivityWPerMK: 'heat conduction of the cured resin',
  heatCapacityMJPerM3K: 'heat capacity of the cured resin',
  stillAirWPerM2K: 'heat that still air takes',
  fanWPerM2K: 'heat that air from a fan takes',
  waterWPerM2K: 'heat that water takes',
  limitC: 'hottest the part may get',
  lightShare: 'share of the lamp’s power that is light',
  litCm2: 'area it spreads over',
  index: 'refractive index of the cured resin',
  scratchShare: 'roughness of the scratches over the grain',
  markShare: 'depth of the marks over the grain',
  flowKJPerMol: 'how fast warmth thins the resin (activation)',
  viscosityAtC: 'temperature of the stated viscosity',
  densityKgPerM3: 'density of the resin',
  bubbleUm: 'smallest bubble that must leave',
}
const valueOf = ({ value, to, unit }: Assumed) =>
  `${to === undefined ? short(value) : `${short(value)} to ${short(to)}`}${unit && ` ${unit}`}`

type Row = readonly [string, string]
type Warned = Pick<PostCureReply, 'assumed' | 'warnings' | 'cautions'>

const range = ([low, high]: readonly [number, number], unit: string) => `${short(low)} to ${short(high)}${unit}`
const percent = (share: readonly [number, number]) => range([100 * share[0], 100 * share[1]], ' %')
const seconds = (s: number) => (s < 120 ? `${s} s` : `${Math.floor(s / 60)} min ${s % 60} s`)
const lines = (rows: readonly Row[], { assumed, warnings, cautions }: Warned) =>
  tableLines([
    ...rows,
    ...assumed.map((one): Row => [HEADS[one.basis], `${NAMES[one.what]}: ${valueOf(one)}`]),
    ...warnings.map(({ advice, detail }): Row => ['Warning', detail === undefined ? advice : `${advice} (${detail})`]),
    ...cautions.map(({ text }): Row => ['Caution', text]),
    ['', english.first],
  ]).join('\n')

/** Stages, temperature by both models, dose in depth. */
export function postCureReport(answer: PostCureReply): string {
  const { stages, doseJPerCm2, irradianceMwPerCm2, lightS, totalS, biot, trusted } = answer
  const { onS, side } = stages[0]!
  const restS = stages.length > 1 ? stages[0]!.restS : 0
  return lines(
    [
      ['Light', `${short(doseJPerCm2)} J/cm² a face: ${seconds(lightS)} at ${short(irradianceMwPerCm2)} mW/cm²`],
      [
        'Stages',
        `${stages.length} of ${seconds(onS)}${restS > 0 ? `, ${seconds(restS)} of rest between` : ''}${side === 'both' ? '' : ', the part turned after each'}`,
      ],
      ['All together', inMinutes(totalS / 60)],
      [
        'Hottest',
        `${short(answer.peakC)} °C by conduction, ${short(answer.lumpedPeakC)} °C as one lump; limit ${short(answer.limitC)} °C`,
      ],
      ['Biot number', `${short(biot)}: ${trusted === 'lumped' ? 'the lump may be believed' : 'conduction decides'}`],
      ['Middle', `${short(100 * answer.middleShare)} % of the light at the faces`],
    ],
    answer,
  )
}

/** Each grit with what to take off and what haze is left. */
export function smoothReport(answer: SmoothReply): string {
  const { step, steps, stopAfter, gain } = answer
  return lines(
    [
      [
        'Steps',
        `${short(step.heightUm)} µm high from ${step.from}, Ra ${short(step.raUm)} µm; ${short(answer.layersPerMm)} layers a mm`,
      ],
      ...steps.map(({ name, grainUm, stockUm, bareHaze, coatedHaze }, i): Row => [
        name,
        [
          `grain ${grainUm} µm`,
          stockUm[0] === stockUm[1] ? `take off ${short(stockUm[0])} µm` : `take off ${range(stockUm, ' µm')}`,
          `haze ${percent(bareHaze)}${coatedHaze ? ` bare, ${percent(coatedHaze)} coated` : ''}`,
          ...(i === stopAfter ? ['stop here'] : []),
        ].join('; '),
      ]),
      ...(gain
        ? [
            [
              'Coat',
              `haze from ${percent(gain.haze.bare)} to ${percent(gain.haze.coated)}, light from ${short(100 * gain.transmittance.bare)} to ${short(100 * gain.transmittance.coated)} %`,
            ] as const,
          ]
        : []),
    ],
    answer,
  )
}

/** Viscosity and standing time. */
export function prepareReport(answer: PrepareReply): string {
  return lines(
    [
      ['Viscosity', `${range(answer.viscosityRatio, ' times')} that at ${short(answer.bestC)} °C`],
      ...(answer.standMin ? [['Stand', range(answer.standMin, ' min as it is')] as const] : []),
      ...(answer.standWarmMin ? [['', range(answer.standWarmMin, ` min at ${short(answer.bestC)} °C`)] as const] : []),
    ],
    answer,
  )
}
