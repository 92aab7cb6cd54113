import type { ReadLadder } from '../../server/api/readings.js'

export type Residual = ReadLadder['card']['residuals'][number]

/** How far a disc was seen from its fitted place, um. */
export const offUm = ({ dxUm, dyUm }: Residual): number => Math.hypot(dxUm, dyUm)

/** Length on the card of the longest arrow, mm. */
const LONGEST_MM = 14

/** The largest of 1, 2, 5, 10 and so on that is not above the value. */
export function roundDown(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value))
  return (value >= 5 * decade ? 5 : value >= 2 * decade ? 2 : 1) * decade
}

/** By how much the arrows of a residual map are drawn too long. */
export const magnificationOf = (residuals: readonly Residual[]): number =>
  roundDown((1000 * LONGEST_MM) / Math.max(0.1, ...residuals.map(offUm)))
