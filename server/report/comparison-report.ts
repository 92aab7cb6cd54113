import { decimalsFor, type Comparison } from '../../analysis/index.js'
import { withUncertainty } from './numbers.js'
import { tableLines } from './table.js'

const TITLES: Readonly<Record<Comparison['of'], string>> = {
  haze: 'haze index (relative)',
  surface: 'surface index (relative)',
  yellowness: 'yellowness per mm (relative)',
  score: 'clarity score',
}

const digits = (value: number): string => String(Number(value.toPrecision(2)))

/** A comparison in words: means, differences, notes, and what the charts over time say. */
export function comparisonReport({
  by,
  of,
  methodInWords,
  groups,
  differences,
  sources,
  overTime,
  notes,
}: Comparison): string {
  const means = tableLines([
    [by, TITLES[of], '95 % interval', 'coupons', 'photographs'],
    ...groups.map(({ group, mean, coupons, photos }) => [
      group,
      withUncertainty(mean),
      mean.interval.map((end) => end.toFixed(decimalsFor(mean.standardUncertainty))).join(' to '),
      String(coupons),
      String(photos),
    ]),
  ])
  return [
    ...means,
    '',
    ...differences.map(({ inWords }) => inWords),
    `Method: ${methodInWords}`,
    ...(sources.length > 1
      ? [`Scatter: ${sources.map((one) => `${one.source} ${digits(one.standardDeviation)}`).join(', ')}.`]
      : []),
    ...overTime.map(({ inWords, baseline }) => `Over time: ${inWords} Limits from its first ${baseline} photographs.`),
    ...notes.map(({ code, advice, detail }) => `Note: ${advice} [${code}${detail === undefined ? '' : `: ${detail}`}]`),
  ].join('\n')
}
