import { texts } from './texts/page.js'

/** Factor from standard to expanded uncertainty on screen. */
const EXPANSION = 2

/** Fixed decimals with a true minus sign; no negative zero. */
export function formatNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '\u2212')
}

/** Significant digits without trailing zeros: 2.30 becomes 2.3. */
export const formatShort = (value: number, digits = 3): string => String(Number(value.toPrecision(digits)))

/** Layer exposure in s. */
export const formatExposure = (exposureS: number): string => formatShort(exposureS, 4)

/** Interval of layer exposures in s, as words. */
export const formatRange = ([low, high]: readonly [number, number]): string =>
  texts.range(formatShort(low), formatShort(high))

/** List of layer exposures in s. */
export const formatExposures = (exposuresS: readonly number[]): string => exposuresS.map(formatExposure).join(', ')

/** `value ± U`: U expanded (k = 2) and rounded to two digits, both to the same decimals. */
export function formatExpanded(measured: { value: number; standardUncertainty: number }): string {
  const expanded = EXPANSION * measured.standardUncertainty
  const decimals = expanded > 0 ? Math.min(Math.max(1 - Math.floor(Math.log10(expanded)), 0), 4) : 1
  return `${formatNumber(measured.value, decimals)}\u00a0±\u00a0${formatNumber(expanded, decimals)}`
}

/** Where 95 % of the values that could be meant lie. */
export const interval95 = (value: number, standardUncertainty: number): [number, number] => [
  value - EXPANSION * standardUncertainty,
  value + EXPANSION * standardUncertainty,
]

/** Day and time in the reader's own form. */
export const formatTime = (iso: string): string =>
  new Date(iso).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })

/** With a capital, as a headline begins. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** Headline from a reason's stable name: `card-cropped` becomes `Card cropped`. */
export const codeTitle = (code: string): string => capital(code.replaceAll('-', ' '))

/** The engine's words as a sentence of the page: a capital, a full stop, the true sign of micrometres. */
export function sentence(words: string): string {
  const text = words.replaceAll(/\bum\b/g, 'µm')
  return `${capital(text)}${/[.!?]$/.test(text) ? '' : '.'}`
}
