import { language } from './language.js'
import { texts } from './texts/page.js'

/** Factor from standard to expanded uncertainty on screen. */
const EXPANSION = 2

/** Stands before the decimals in the language of the page. */
const DECIMAL_MARK = new Intl.NumberFormat(language).format(0.5).slice(1, -1)

/** A number, or text with numbers in it, as programs write it: with the decimal mark of the page. */
export const inMarks = (text: string | number): string => String(text).replaceAll(/(?<=\d)\.(?=\d)/g, DECIMAL_MARK)

/** What is typed as a number, with either mark, as programs write it; empty if it is none. */
export function plainNumber(typed: string): string {
  const text = typed.trim().replace(',', '.').replace('\u2212', '-')
  return text !== '' && Number.isFinite(Number(text)) ? text : ''
}

/** Numbers typed one after the other, NaN where one is none. A comma that nothing follows parts them. */
export const listOfNumbers = (typed: string): number[] =>
  typed
    .split(/[\s;/]+/)
    .filter(Boolean)
    .map((part) => plainNumber(part.replace(/,$/, '')))
    .map((plain) => (plain === '' ? NaN : Number(plain)))

/** Fixed decimals with a true minus sign; no negative zero. */
export function formatNumber(value: number, decimals: number): string {
  const text = inMarks(value.toFixed(decimals))
  return /[1-9]/.test(text) ? text.replace('-', '\u2212') : text.replace('-', '')
}

/** To significant digits. */
export const toDigits = (value: number, digits: number): number => Number(value.toPrecision(digits))

/** Significant digits without trailing zeros: 2.30 becomes 2.3. */
export const formatShort = (value: number, digits = 3): string => inMarks(toDigits(value, digits))

/** Layer exposure in s. */
export const formatExposure = (exposureS: number): string => formatShort(exposureS, 4)

/** Interval of layer exposures in s, as words. */
export const formatRange = ([low, high]: readonly [number, number]): string =>
  texts.range(formatShort(low), formatShort(high))

/** List of layer exposures in s. */
export const formatExposures = (exposuresS: readonly number[]): string =>
  exposuresS.map(formatExposure).join(DECIMAL_MARK === ',' ? '; ' : ', ')

/** Decimals that show two digits of how far off a value may be. */
const decimalsFor = (halfWidth: number): number =>
  halfWidth > 0 ? Math.min(Math.max(1 - Math.floor(Math.log10(halfWidth)), 0), 4) : 1

/** Numbers to the decimals that the interval around one of them bears. */
export const toWidthOf =
  ([low, high]: readonly [number, number]) =>
  (value: number): string =>
    formatNumber(value, decimalsFor((high - low) / 2))

/** `value ± U`: U expanded (k = 2) and rounded to two digits, both to the same decimals. */
export function formatExpanded(measured: { value: number; standardUncertainty: number }): string {
  const expanded = EXPANSION * measured.standardUncertainty
  const decimals = decimalsFor(expanded)
  return `${formatNumber(measured.value, decimals)}\u00a0±\u00a0${formatNumber(expanded, decimals)}`
}

/** Where 95 % of the values that could be meant lie. */
export const interval95 = (value: number, standardUncertainty: number): [number, number] => [
  value - EXPANSION * standardUncertainty,
  value + EXPANSION * standardUncertainty,
]

const ownLocale = new Intl.DateTimeFormat().resolvedOptions().locale
/** The language of the page as the reader's own country writes it. */
export const locale = ownLocale.startsWith(language) ? ownLocale : language

/** Day and time in the reader's own form. */
export const formatTime = (iso: string): string =>
  new Date(iso).toLocaleString(locale, { dateStyle: 'medium', timeStyle: 'short' })

/** Day and month, for a chart. */
export const formatDay = (date: Date): string =>
  date.toLocaleDateString(locale, { day: 'numeric', month: 'short', timeZone: 'UTC' })

/** With a capital, as a headline begins. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** Headline from a reason's stable name: `card-cropped` becomes `Card cropped`. */
export const codeTitle = (code: string): string => capital(code.replaceAll('-', ' '))

/** The engine's words with the signs of the page: true minus, micrometres and degrees, a per cent that stays with its number. */
export const withSigns = (words: string): string =>
  words
    .replaceAll(/\bum\b/g, 'µm')
    .replaceAll(/(?<=\d) degrees C\b/g, '\u00a0°C')
    .replaceAll(/(?<![\w-])-(?=\d)/g, '\u2212')
    .replaceAll(/(?<=\d) %/g, '\u00a0%')

/** The engine's words as a sentence of the page: its signs, a capital, a full stop. */
export function sentence(words: string): string {
  const text = withSigns(words)
  return `${capital(text)}${/[.!?]$/.test(text) ? '' : '.'}`
}
