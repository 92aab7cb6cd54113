import type { MeasuredValue } from '../../analysis/index.js'

const MOST_DECIMALS = 4

/** Decimals that show the first two digits of an uncertainty, as the GUM (JCGM 100:2008, 7.2.6) advises. */
export function decimalsFor(standardUncertainty: number): number {
  if (standardUncertainty <= 0) return 1
  const first = Math.floor(Math.log10(standardUncertainty))
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - first))
}

/** `12.3 ± 1.4`: value and standard uncertainty, k = 1. */
export function withUncertainty({ value, standardUncertainty }: MeasuredValue): string {
  const decimals = decimalsFor(standardUncertainty)
  return `${value.toFixed(decimals)} ± ${standardUncertainty.toFixed(decimals)}`
}

/** At most three significant digits, without trailing zeros: `2.35`, `12.4`. */
export const short = (value: number): string => String(Number(value.toPrecision(3)))
