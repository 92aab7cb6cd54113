import type { Expectation } from '../../analysis/index.js'
import type { FirstLadderReply, LampReply, LayerHeightReply, LevelsReply, WorkingCurveReply } from '../api/planning.js'
import { short, withUncertainty } from './numbers.js'
import { tableLines } from './table.js'

const range = ([low, high]: readonly [number, number], unit: string) => `${short(low)} to ${short(high)} ${unit}`
const lines = (...rows: readonly (readonly [string, string] | undefined)[]) =>
  tableLines(rows.flatMap((row) => (row ? [row] : []))).join('\n')

/** Exposure at another layer height: both rules, what each risks, what to print. */
export function layerHeightReport(answer: LayerHeightReply): string {
  const { fromUm, toUm, depth, depthIs, bond, accumulated, confirmingLadderS, ladders, warnings } = answer
  const rule = ({ exposureS, intervalS, risk, overcureUm, printThroughUm }: LayerHeightReply['bond']) =>
    [
      `${short(exposureS)} s (${range(intervalS, 's')})`,
      ...(overcureUm === undefined ? [] : [`overcure ${Math.round(overcureUm)} µm`]),
      ...(printThroughUm === undefined ? [] : [`print-through ${Math.round(printThroughUm)} µm`]),
      risk,
    ].join('; ')
  return lines(
    ['Layer height', `${fromUm} to ${toUm} µm: ${answer.inWords}`],
    [
      'Penetration depth',
      `${short(depth.valueUm)} µm (${depth.intervalUm.map(short).join(' to ')})${depthIs === 'unknown' ? ', not known: a wide guess' : ''}`,
    ],
    ['Same dose in all', rule(accumulated)],
    ['Same bond', rule(bond)],
    ladders && ['From the ladders', `${short(ladders.exposureS)} s, 95 % interval ${range(ladders.intervalS, 's')}`],
    answer.note === undefined ? undefined : ['Note', answer.note],
    ['Print next', `${confirmingLadderS.join(', ')} s at ${toUm} µm`],
    ...warnings.map(({ advice }) => ['Warning', advice] as const),
  )
}

/** Working curve with its doubts. */
export function workingCurveReport(curve: WorkingCurveReply): string {
  const bends = {
    straight: 'no bend shows',
    saturates: 'the curve bends down: depth saturates at high dose',
    steepens: 'the curve bends up: low doses fall short',
    'too-few-doses': 'too few doses to tell a bend',
  }
  return lines(
    [
      'Penetration depth',
      `${short(curve.penetrationDepthUm.value)} µm, 95 % interval ${range(curve.penetrationDepthIntervalUm, 'µm')}`,
    ],
    [
      'Critical dose',
      `${short(curve.criticalDoseMjPerCm2)} mJ/cm², 95 % interval ${range(curve.criticalDoseIntervalMjPerCm2, 'mJ/cm²')}`,
    ],
    ['Curvature', bends[curve.curvature.verdict]],
    ['Points', `${curve.points.length}, scatter ${short(curve.scatterUm)} µm; ${curve.columns}`],
    curve.forDepth && [
      `Dose for ${short(curve.forDepth.depthUm)} µm`,
      `${short(curve.forDepth.doseMjPerCm2)} mJ/cm², 95 % interval ${range(curve.forDepth.intervalMjPerCm2, 'mJ/cm²')}`,
    ],
    ...curve.advice.map(
      ({ line, inWords, withoutIt }) =>
        [
          `Line ${line}`,
          `${inWords} Without it: ${short(withoutIt.penetrationDepthUm)} µm, ${short(withoutIt.criticalDoseMjPerCm2)} mJ/cm².`,
        ] as const,
    ),
    ...curve.skipped.map(({ line, inWords }) => [`Line ${line}`, `left out: ${inWords}`] as const),
  )
}

/** The first ladder, in the order to print it. */
export function firstLadderReport({ exposuresS, why, printOrder, printTimesS }: FirstLadderReply): string {
  const minutes = (seconds: number) => `${Math.round(seconds / 60)} min`
  return lines(
    ['Exposures', `${exposuresS.join(', ')} s: ${why}`],
    ['Print in this order', printOrder.map((rung) => `${exposuresS[rung - 1]} s`).join(', ')],
    [
      'Time',
      `about ${minutes(printTimesS.reduce((sum, one) => sum + one, 0))} in all, ${minutes(Math.max(...printTimesS))} the longest print`,
    ],
  )
}

/** Levels of a ladder, as `card --levels` takes them. */
export const levelsReport = ({ factor, unit, levels }: LevelsReply): string =>
  lines(
    ['Levels', `${levels.join(', ')} ${unit}`],
    ['Card', `stepglass card --factor ${factor} --levels ${levels.join(',')} --exposures <the one exposure>`],
  )

/** Exposure under another irradiance. */
export function lampReport({ exposureS, intervalS, doseMjPerCm2, caution }: LampReply): string {
  return lines(
    ['Dose', `${withUncertainty(doseMjPerCm2)} mJ/cm² (k = 1)`],
    ['Exposure', `${short(exposureS)} s, 95 % interval ${range(intervalS, 's')}`],
    ['Caution', caution],
  )
}

/** What to expect of an exposure at a layer height. */
export function expectationReport(found: Expectation, exposureS: number, layerUm: number, ladderUm: number): string {
  const band = (value: { value: number; low: number; high: number } | undefined, unit: string) =>
    value && `${short(value.value)}${unit} (95 % band ${short(value.low)} to ${short(value.high)})`
  const safe = (um: number | undefined) => (um === undefined ? undefined : `${Math.round(um)} µm with 95 % chance`)
  const row = (name: string, text: string | undefined) => (text ? ([name, text] as const) : undefined)
  return lines(
    ['Exposure', `${short(exposureS)} s at ${layerUm} µm`],
    layerUm === ladderUm
      ? undefined
      : ['Equals', `${band(found.equivalentS, ' s')} at ${ladderUm} µm, by accumulated dose`],
    found.place === 'within'
      ? undefined
      : ['Outside', `${found.place} the rungs of this ladder, which says nothing of it; print a ladder there`],
    row('Growth per side', band(found.growthUm, ' µm')),
    row('Print-through', band(found.printThroughUm, ' µm')),
    row('Haze index', band(found.haze, '')),
    row('Lines survive from', safe(found.safeLineUm)),
    row('Spaces survive from', safe(found.safeSpaceUm)),
  )
}
