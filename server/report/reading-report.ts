import {
  FACTORS,
  type CombinedLadder,
  type CombinedRung,
  type LadderDesign,
  type LadderReading,
  type MeasuredValue,
  type ReadLadder,
  type RefusalReply,
  type Rung,
  type WindowTrend,
} from '../../analysis/index.js'
import { clarityLines } from './clarity-table.js'
import { short, withUncertainty } from './numbers.js'
import { processRows } from './process-report.js'
import { tableLines } from './table.js'

const indent = (lines: readonly string[]) => lines.map((line) => (line === '' ? line : `  ${line}`))

const said = ({ code, advice, detail }: RefusalReply) =>
  `${advice} [${code}${detail === undefined ? '' : `: ${detail}`}]`

const range = ([low, high]: readonly [number, number]) => `${short(low)} to ${short(high)} s`

type Answer = NonNullable<ReadLadder['suggestion']>
type Beside = NonNullable<NonNullable<Answer['halfStep']>['lower']>

const besideOf = ({ exposureS, growthUm, safeLineUm, safeSpaceUm, haze }: Beside) =>
  [
    `at ${short(exposureS)} s growth ${withUncertainty(growthUm)} µm`,
    ...(safeLineUm === undefined ? [] : [`lines from ${Math.round(safeLineUm)} µm`]),
    ...(safeSpaceUm === undefined ? [] : [`spaces from ${Math.round(safeSpaceUm)} µm`]),
    ...(haze ? [`haze index ${withUncertainty(haze)}`] : []),
  ].join(', ')

function survivalOf({ safeLineUm, safeSpaceUm }: Answer): string {
  const from = (kind: string, { value, interval, reachesEnd }: NonNullable<Answer['safeLineUm']>) => {
    const [low, high] = interval.map(Math.round)
    const range = `95 % interval ${low}${reachesEnd.low ? ' or less' : ''} to ${high}${reachesEnd.high ? ' or more' : ''}`
    return `${kind} from ${Math.round(value)} µm with 95 % chance (${range})`
  }
  return [safeLineUm ? from('lines', safeLineUm) : '', safeSpaceUm ? from('spaces', safeSpaceUm) : '']
    .filter((part) => part !== '')
    .join('; ')
}

function answerLines(ladder: ReadLadder | CombinedLadder): string[] {
  const { suggestion, noSuggestion, usableRange, doseToSize, growthFit, caliper, windowTrends } = ladder
  const rows: [string, string][] = ladder.process ? processRows(ladder.process) : []
  if (suggestion) {
    const { exposureS, intervalS, confidence, expectedGrowthUm, rule, limitedBy, halfStep } = suggestion
    rows.push(['Suggested exposure', `${exposureS} s, 95 % interval ${range(intervalS)}`])
    if (usableRange) rows.push(['Usable range', usableRangeLine(usableRange)])
    rows.push(['How sure', confidence])
    rows.push(['Expected growth', `${withUncertainty(expectedGrowthUm)} µm per side (k = 1)`])
    const clear = clarityOf(suggestion)
    if (clear !== '') rows.push(['Expected clarity', clear])
    const beside = [halfStep?.lower, halfStep?.higher].flatMap((neighbour) => (neighbour ? besideOf(neighbour) : []))
    if (beside.length > 0) rows.push(['Half a step', beside.join('; ')])
    const safe = survivalOf(suggestion)
    if (safe !== '') rows.push(['Survives', safe])
    rows.push(['Chosen because', rule])
    if (limitedBy !== undefined) rows.push(['Limited by', limitedBy])
  }
  if (noSuggestion) {
    rows.push(['No suggestion', said(noSuggestion)])
    const { exposuresS, why } = noSuggestion.nextLadder
    rows.push(['Print next', `${exposuresS.join(', ')} s: ${why}`])
  }
  if (caliper)
    rows.push([
      'Caliper',
      `photo less caliper ${withUncertainty(caliper.offsetUm)} µm per side, by the ${caliper.nominalMm} mm tabs of slots ${caliper.tabs.map(({ slot }) => slot).join(', ')}; ${caliper.appliedUm.toFixed(1)} µm taken off`,
    ])
  for (const { axis, exposureS, intervalS } of doseToSize?.byAxis ?? [])
    rows.push([`Dose-to-size, ${axis}`, `${short(exposureS)} s, 95 % interval ${range(intervalS)}`])
  if (growthFit) rows.push(...growthFitRows(growthFit))
  rows.push(...(windowTrends ?? []).map(trendRow))
  return tableLines(rows)
}

const clarityOf = ({ expectedHaze, expectedYellownessPerMm }: Answer): string =>
  [
    ...(expectedHaze ? [`haze index ${withUncertainty(expectedHaze)}`] : []),
    ...(expectedYellownessPerMm ? [`yellowness ${withUncertainty(expectedYellownessPerMm)} per mm`] : []),
  ].join(', ')

const TRENDS = { haze: 'Haze trend', yellownessPerMm: 'Yellowness trend' } as const

function trendRow({ of, verdict, change, least, curve }: WindowTrend): [string, string] {
  const [low, high] = [curve[0]!, curve.at(-1)!]
  const changed = `${withUncertainty(change)} from ${short(low.exposureS)} to ${short(high.exposureS)} s (k = 1)`
  const said = {
    rises: `rises by ${changed}`,
    falls: `falls: ${changed}`,
    bends: least
      ? `least near ${short(least.exposureS)} s, 95 % interval ${range(least.intervalS)}; ${changed}`
      : `rises and falls again; ${changed}`,
    'no-trend': `none at 95 %: ${changed}`,
  }
  return [TRENDS[of], said[verdict]]
}

function usableRangeLine(usable: NonNullable<ReadLadder['usableRange']>): string {
  const { rangeS, reachesEnd, toleranceUm, latitudePercent, latitudeRatio } = usable
  const least = reachesEnd.low || reachesEnd.high ? 'at least ' : ''
  return (
    `${range(rangeS)}, for growth within ${short(toleranceUm)} µm per side; ` +
    `latitude ${least}${latitudePercent.toFixed(0)} %, 1 : ${latitudeRatio.toFixed(2)}`
  )
}

function growthFitRows(fit: NonNullable<ReadLadder['growthFit']>): [string, string][] {
  const candidates = fit.candidates.map(({ model, weight, doseToSize }) => {
    const size = doseToSize ? `size at ${short(doseToSize.exposureS)} s (${range(doseToSize.intervalS)})` : 'no size'
    return `${model} ${(100 * weight).toFixed(0)} %, ${size}`
  })
  const outlying = fit.outlyingRungs.map(({ slot, exposureS, offUm, doseToSizeWithout }): [string, string] => [
    'Outlying rung',
    `slot ${slot}, ${exposureS} s, is ${offUm.toFixed(1)} µm off what the others say; dose-to-size without it ` +
      (doseToSizeWithout
        ? `${short(doseToSizeWithout.exposureS)} s (${range(doseToSizeWithout.intervalS)})`
        : 'is not found'),
  ])
  return [['Growth models', candidates.join('; ')], ...outlying]
}

const HEAD = ['slot', 'growth', 'print-through', 'smallest line', 'smallest space', 'haze index']
const UNITS = ['µm per side', 'µm', 'µm', 'µm', '']

function rungTable({ design, rungs }: ReadLadder | CombinedLadder): string[] {
  const head = [HEAD[0]!, design.factor ?? 'exposure', ...HEAD.slice(1)]
  const units = ['', design.factor ? FACTORS[design.factor].unit : 's', ...UNITS]
  return tableLines([head, units, ...rungs.map((rung) => rungRow(rung, design))])
}

function rungRow(rung: Rung | CombinedRung, { levels }: LadderDesign): string[] {
  const name = [String(rung.slot), levels?.[rung.slot - 1] ?? String(rung.exposureS)]
  if ('refusal' in rung) return [...name, 'not read']
  const measured = (value: MeasuredValue | undefined) => (value ? withUncertainty(value) : '-')
  const size = (value: number | null) => (value === null ? 'none' : String(Math.round(value)))
  return [
    ...name,
    withUncertainty(rung.growthUm),
    measured(rung.printThroughUm),
    size(rung.smallestLineUm),
    size(rung.smallestSpaceUm),
    measured(rung.haze),
  ]
}

function remarkLines({ rungs, warnings }: ReadLadder): string[] {
  const ofRungs = rungs.flatMap((rung) =>
    ('refusal' in rung ? [rung.refusal] : rung.notes).map((remark) => `Slot ${rung.slot}: ${said(remark)}`),
  )
  return [...ofRungs, ...warnings.map((warning) => `Warning: ${said(warning)}`)]
}

/** Why nothing can be said. */
export const refusedReport = (name: string, refusal: RefusalReply): string => `${name}: not read. ${said(refusal)}`

/** What several photographs say together. @param names of the photographs, in the order they were combined */
export function combinedReport(names: readonly string[], combined: CombinedLadder): string {
  const photos = combined.photos.map(({ rungsRead, offsetUm }, i) => [
    names[i] ?? '',
    `${rungsRead} rungs read`,
    `${offsetUm.toFixed(1)} µm beside the others`,
  ])
  return [
    `Combined: ladder ${combined.design.ladderId}, ${names.length} photographs`,
    '',
    ...indent(answerLines(combined)),
    '',
    ...indent(rungTable(combined)),
    ...indent(['', 'Each ± is a standard uncertainty (k = 1).', '', ...tableLines(photos)]),
    ...combined.warnings.map((warning) => `  Warning: ${said(warning)}`),
  ].join('\n')
}

/** What a photograph says, for a person at a terminal: the answer first, then what it rests on. */
export function readingReport(photoName: string, reading: LadderReading): string {
  if ('refusal' in reading) return refusedReport(photoName, reading.refusal)
  const { design } = reading
  const remarks = remarkLines(reading)
  const clarity = clarityLines(reading.rungs)
  return [
    `${photoName}: ladder ${design.ladderId}, ${design.layerHeightUm} µm layers, ${design.pixelPitchUm} µm pixels${design.factor ? `, ${design.exposuresS[0]} s` : ''}`,
    '',
    ...indent(answerLines(reading)),
    '',
    ...indent(rungTable(reading)),
    ...(clarity.length > 0 ? ['', ...indent(clarity)] : []),
    ...indent(['', 'Each ± is a standard uncertainty (k = 1).']),
    ...(remarks.length > 0 ? ['', ...indent(remarks)] : []),
  ].join('\n')
}
