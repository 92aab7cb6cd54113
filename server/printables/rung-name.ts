import type { LadderLayout } from '../../analysis/index.js'

/** `K7Q2XN rung 3, 2.5 s` */
export const rungName = ({ design }: LadderLayout, slot: number): string =>
  `${design.ladderId} rung ${slot}, ${design.exposuresS[slot - 1]} s`

/** `K7Q2XN-rung-3-2.5s`, without ending */
export const rungFileName = ({ design }: LadderLayout, slot: number): string =>
  `${design.ladderId}-rung-${slot}-${design.exposuresS[slot - 1]}s`
