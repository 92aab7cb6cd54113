import { decimalsFor } from '../statistics/decimals-for.js'
import type { Method } from './compare-groups.js'
import type { CompareOf, Comparison } from './schema.js'

const UNITS: Readonly<Record<CompareOf, string>> = { haze: '', surface: '', yellowness: ' per mm', score: ' points' }

/** A number with digits enough to be told from its uncertainty. */
export const shown = (value: number, of: CompareOf): string =>
  `${value === 0 ? '0' : Number(value.toPrecision(2))}${UNITS[of]}`

export const METHODS: Readonly<Record<Method, string>> = {
  welch: "Welch's differences, each group with its own scatter.",
  pooled: 'One scatter for all groups.',
  mixed: 'Mixed model: what photographs, bottles and coupons add is kept apart.',
  stated: 'One coupon a group: stated uncertainties alone; how much coupons of a group differ is not known.',
}

/** What a difference says to whoever has to choose. */
export function differenceInWords(
  {
    first,
    second,
    difference: { value, interval },
    differs,
    smallestDetectable,
    couponsNeeded,
  }: Omit<Comparison['differences'][number], 'inWords'>,
  { of, power, wanted, coupons }: { of: CompareOf; power: number; wanted?: number | undefined; coupons: number },
): string {
  const show = (number: number) => shown(number, of)
  if (differs) {
    const [low, high] = interval.map(Math.abs).sort((a, b) => a - b) as [number, number]
    const borne = (number: number) => `${number.toFixed(decimalsFor((high - low) / 2))}${UNITS[of]}`
    return `${second} reads ${borne(Math.abs(value))} ${value > 0 ? 'higher' : 'lower'} than ${first} (95 %: ${borne(low)} to ${borne(high)}).`
  }
  const chance = Math.round(power * 100)
  const none = `${first} and ${second}: no difference that this many coupons could show; one of ${show(smallestDetectable)} would have shown with ${chance} % chance.`
  if (wanted === undefined || couponsNeeded === undefined) return none
  if (couponsNeeded === null) {
    return `${none} More coupons on these photographs alone would not show ${show(wanted)}: take more photographs, with coupons of both on one card.`
  }
  if (couponsNeeded <= coupons) return `${none} One of ${show(wanted)} would very likely have shown.`
  return `${none} To show ${show(wanted)}, take ${couponsNeeded} coupons of each, spread over photographs and bottles like these.`
}
