import type { LadderReading } from '../../analysis/index.js'
import type { PeerReading } from '../peers/peer-reading.js'
import { trueDeltaB } from '../support/true-delta-b.js'
import { SHARE_BEYOND } from '../support/haze-truth.js'

/** What is known of a rung of a simulated photograph. */
export interface TrueRung {
  readonly growthUm: number
  readonly printThroughUm: number
  /** Share that the window scatters widely: a little more than what is scattered by more than 2.5 degrees. */
  readonly haze: number
  /** Natural logarithm a mm for red, green, blue. */
  readonly absorptionPerMm: readonly [number, number, number]
}

const QUANTITIES = {
  'growth, um per side': { digits: 1, truth: (rung: TrueRung) => rung.growthUm },
  'print-through, um': { digits: 0, truth: (rung: TrueRung) => rung.printThroughUm },
  'haze index': { digits: 3, truth: (rung: TrueRung) => SHARE_BEYOND * rung.haze },
  'change of b*': { digits: 2, truth: trueDeltaB },
} as const
type Quantity = keyof typeof QUANTITIES
type Values = Readonly<Record<Quantity, number | undefined>>

/** Lines of text: for each quantity what is true and what each reader found, a column a rung. */
export function agreementTable(
  truth: readonly TrueRung[],
  readings: Readonly<Record<string, LadderReading | PeerReading>>,
): string {
  const line = (name: string, values: readonly (number | undefined)[], digits: number) =>
    `      ${name.padEnd(20)}${values.map((v) => (v?.toFixed(digits) ?? '-').padStart(9)).join('')}`
  const found = Object.entries(readings).map(([name, reading]) => [name, valuesOf(reading)] as const)
  return (Object.keys(QUANTITIES) as Quantity[])
    .flatMap((quantity) => {
      const { digits, truth: trueOf } = QUANTITIES[quantity]
      const rows = found.map(([name, rungs]) => [name, rungs.map((rung) => rung[quantity])] as const)
      return [
        `   ${quantity}`,
        line('truth', truth.map(trueOf), digits),
        ...rows.map(([name, values]) => line(name, values, digits)),
      ]
    })
    .join('\n')
}

function valuesOf(reading: LadderReading | PeerReading): Values[] {
  if ('refusal' in reading) throw new Error(`the photograph was refused: ${reading.refusal.code}`)
  if ('schema' in reading)
    return reading.rungs.map((rung) => {
      const read = 'growthUm' in rung ? rung : undefined
      return {
        'growth, um per side': read?.growthUm.value,
        'print-through, um': read?.printThroughUm?.value,
        'haze index': read?.haze?.value,
        'change of b*': read?.window?.yellowness.deltaB.value,
      }
    })
  return reading.rungs.map((rung) => ({
    'growth, um per side': rung?.growthUm,
    'print-through, um': rung?.printThroughUm,
    'haze index': rung?.hazeIndex,
    'change of b*': rung?.deltaB,
  }))
}
