import type { ProcessConclusion, ProcessFit, ProcessOf, ProcessResponse } from '../../analysis/index.js'
import type { ProcessLadderReply } from '../api/finish.js'
import { short, withUncertainty } from './numbers.js'
import { tableLines } from './table.js'

type Row = [string, string]
type Suggestion = NonNullable<ProcessConclusion['suggestion']>

const NAMES: Readonly<Record<ProcessOf, string>> = {
  haze: 'Haze index',
  yellownessPerMm: 'Yellowness per mm',
  growthUm: 'Growth, µm',
}
const range = ([low, high]: readonly [number, number], unit: string) => `${short(low)} to ${short(high)} ${unit}`.trim()
const withUnit = (level: string, unit: string) => `${level} ${unit}`.trim()

/** The answer of a ladder of levels: what to use, then what each response does. */
export function processRows({ unit, responses, suggestion, noSuggestion, nextLevels }: ProcessConclusion): Row[] {
  const rows = suggestion ? suggestionRows(suggestion, unit) : []
  if (noSuggestion) rows.push(['No suggestion', `${noSuggestion.advice} [${noSuggestion.code}]`])
  if (nextLevels) rows.push(['Print next', `${nextLevels.join(', ')} ${unit}`.trim()])
  return [...rows, ...responses.flatMap((response) => responseRows(response, unit))]
}

function suggestionRows({ level, interval, by, rule, reached, costs }: Suggestion, unit: string): Row[] {
  const name = NAMES[by].toLowerCase()
  const lastRead = rule === 'last-step' && !reached
  const why = lastRead
    ? `it is the last level read, and ${name} still falls up to it`
    : rule === 'plateau'
      ? `it gives 95 % of what there is to win in ${name}`
      : `beyond it the coupons show no more gain in ${name}`
  const open = lastRead
    ? 'whether more would help: add a level beyond it'
    : 'the coupons do not reach the end of that interval'
  return [
    [
      lastRead ? 'Best level read' : 'Enough',
      `${withUnit(level, unit)}${interval ? `, 95 % interval ${range(interval, unit)}` : ''}`,
    ],
    ['Chosen because', why],
    ...costs.map((of): Row => ['It costs', `${NAMES[of].toLowerCase()} rises with it: no more than needed`]),
    ...(reached ? [] : [['Not sure', open] satisfies Row]),
  ]
}

/** What coupons of several cards say of one response. */
export const processReport = ({ unit, ...response }: ProcessLadderReply): string =>
  tableLines(responseRows(response, unit)).join('\n')

function responseRows({ of, ...fit }: ProcessResponse, unit: string): Row[] {
  return [[NAMES[of], sentence(fit, unit)], ...stepRows(fit)]
}

function sentence({ verdict, saturating, steps, line, noPlateau }: ProcessFit, unit: string): string {
  if (saturating && verdict !== 'no-change') {
    const { enough, change, reached } = saturating
    return (
      `${verdict} by ${withUncertainty({ ...change, value: Math.abs(change.value) })} (k = 1) and levels off; 95 % of it ` +
      `after ${short(enough.value)} ${unit}, 95 % interval ${range(enough.interval, unit)}` +
      (reached ? '' : ', which the coupons do not reach')
    )
  }
  if (line) {
    const perUnit = `per ${unit}, 95 % interval ${range(line.interval, '')}`
    const why = noPlateau ? '; where it levels off does not show' : ''
    return line.told
      ? `${verdict} by ${short(Math.abs(line.slope.value))} ${perUnit}${why}`
      : `no trend shows: ${perUnit}`
  }
  if (steps && verdict !== 'no-change') {
    return steps.best === undefined
      ? `${verdict.replaceAll('-', ' ')}: no step lowers it`
      : `lowest shown from ${steps.best} on`
  }
  return 'no difference that this many coupons could show'
}

const stepRows = ({ steps }: ProcessFit): Row[] => [
  ...(steps?.means ?? []).map(({ level, coupons, mean }): Row => [
    `  ${level}`,
    `${withUncertainty(mean)}, ${coupons === 1 ? 'one coupon' : `${coupons} coupons`}`,
  ]),
  ...(steps?.differences ?? []).map(({ from, to, interval, told }): Row => [
    `  ${from} to ${to}`,
    `${range(interval, '')} (95 %)${told ? '' : ', may be nothing'}`,
  ]),
]
