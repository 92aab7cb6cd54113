import { decimalsFor, type MeasuredValue } from '../../analysis/index.js'

/** `12.3 ± 1.4`: value and standard uncertainty, k = 1. */
export function withUncertainty({ value, standardUncertainty }: MeasuredValue): string {
  const decimals = decimalsFor(standardUncertainty)
  return `${value.toFixed(decimals)} ± ${standardUncertainty.toFixed(decimals)}`
}

/** At most three significant digits, without trailing zeros: `2.35`, `12.4`. */
export const short = (value: number): string => String(Number(value.toPrecision(3)))
