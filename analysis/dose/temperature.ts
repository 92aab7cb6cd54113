import { refuse, type Refusal } from '../outcome.js'

/** Where resin is usually printed, degrees C; below, it flows and cures slowly. Common practice, no source. */
const USUAL_C = [20, 35] as const
/** Ladders farther apart than this are not compared without a word, K. */
const LARGEST_STEP_K = 3
/** Overall activation energy of radical photopolymerisation, J/mol; from memory, 10 to 20 thousand. */
const ACTIVATION_J_PER_MOL = 15_000
const GAS_J_PER_MOL_K = 8.314
const ZERO_C_IN_K = 273.15

/**
 * Warnings about the resin's temperature, which no exposure is corrected for: how much it matters differs by resin.
 *
 * @param ladders temperature of each ladder that is compared, degrees C; one is enough
 */
export function temperatureWarnings(ladders: readonly number[]): Refusal[] {
  const outside = ladders.find((one) => one < USUAL_C[0] || one > USUAL_C[1])
  const [coldest, warmest] = [Math.min(...ladders), Math.max(...ladders)]
  return [
    ...(outside === undefined
      ? []
      : [
          refuse(
            outside < USUAL_C[0] ? 'resin-cold' : 'resin-hot',
            outside < USUAL_C[0]
              ? 'Warm the resin to 25 to 30 degrees before printing: cold resin cures slowly and flows badly. Closed heaters only, no flame.'
              : 'Let the resin cool to 25 to 30 degrees before printing; keep it away from heat and sparks.',
            `${outside} degrees C, usual are ${USUAL_C[0]} to ${USUAL_C[1]}`,
          ).refusal,
        ]),
    ...(ladders.length > 0 && warmest - coldest > LARGEST_STEP_K
      ? [
          refuse(
            'temperatures-differ',
            'Print both ladders at the same resin temperature before trusting their difference.',
            `${coldest} and ${warmest} degrees C; curing speeds up by roughly ${Math.round(100 * (speedUp(coldest, warmest) - 1))} % between them`,
          ).refusal,
        ]
      : []),
  ]
}

/** Arrhenius: exp(Ea / R (1/T1 - 1/T2)). */
function speedUp(fromC: number, toC: number): number {
  return Math.exp((ACTIVATION_J_PER_MOL / GAS_J_PER_MOL_K) * (1 / (fromC + ZERO_C_IN_K) - 1 / (toC + ZERO_C_IN_K)))
}
