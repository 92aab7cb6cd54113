import { rungText, type LadderLayout } from '../../analysis/index.js'

/** `K7Q2XN rung 3, 2.5 s` */
export const rungName = ({ design }: LadderLayout, slot: number): string =>
  `${design.ladderId} rung ${slot}, ${rungText(design, slot)}`

/** `K7Q2XN-rung-3-2.5s`, without ending; only what every file system takes. */
export const rungFileName = ({ design }: LadderLayout, slot: number): string =>
  `${design.ladderId}-rung-${slot}-${rungText(design, slot).replace(/[^0-9A-Za-z.+-]/g, '')}`
