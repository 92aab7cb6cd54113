const MOST_DECIMALS = 4

/**
 * Decimals that show the first two digits of an uncertainty, as the GUM advises (JCGM 100:2008, 7.2.6): at most four, and one
 * where there is no uncertainty.
 *
 * @param uncertainty of a value, or half its interval, in the value's unit
 */
export function decimalsFor(uncertainty: number): number {
  if (!(uncertainty > 0)) return 1
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - Math.floor(Math.log10(uncertainty))))
}
