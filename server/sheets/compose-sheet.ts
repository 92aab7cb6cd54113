import { changeLayerHeight, layerSourceOf, type ReadLadder } from '../../analysis/index.js'
import type { Bottle, Printer, Resin, Setting } from '../api/records.js'
import type { SettingSheet } from '../api/sheets.js'
import { randomName } from '../random-name.js'
import { latestIrradiance } from './latest-irradiance.js'

/** What a sheet is made of; only what is named here can leave. */
export interface SheetSource {
  readonly setting: Setting
  readonly bottle?: Bottle | undefined
  readonly resin?: Resin | undefined
  readonly printer?: Printer | undefined
  /** The reading that gave the setting, when it was measured here. */
  readonly reading?: ReadLadder | undefined
  readonly photoJpeg?: Buffer | undefined
  readonly madeBy?: string | undefined
  readonly note?: string | undefined
  /** Year-month-day. */
  readonly madeOn: string
}

/** Layer heights that are common in practice, um; no source. */
const OTHER_HEIGHTS_UM = [25, 30, 50, 100]
const MOST_CURVE_POINTS = 20
const SHEET_ID_LENGTH = 8

const digits = (value: number, count: number) => Number(value.toPrecision(count))
const inOrder = ([a, b]: readonly [number, number]): [number, number] => [digits(a, 4), digits(b, 4)]

/** Writes down what is handed on of a setting: the answer, what it rests on, and none of the service's own names. */
export function composeSheet({ setting, bottle, resin, printer, reading, ...own }: SheetSource): SettingSheet {
  const temperatureC = setting.temperatureC ?? reading?.resinTemperatureC
  const irradianceMwPerCm2 = latestIrradiance(printer)
  return {
    schema: 'stepglass-setting-1',
    sheetId: randomName(SHEET_ID_LENGTH),
    madeOn: own.madeOn,
    ...(own.madeBy && { madeBy: own.madeBy }),
    ...(setting.simulated && { simulated: true }),
    exposureS: setting.exposureS,
    ...(setting.intervalS && { intervalS: inOrder(setting.intervalS) }),
    layerHeightUm: setting.layerHeightUm,
    ...pixelOf(printer, reading),
    ...(printer && { printer: printer.name, timeStepS: printer.timeStepS }),
    ...(irradianceMwPerCm2 !== undefined && { irradianceMwPerCm2 }),
    ...(temperatureC !== undefined && { temperatureC }),
    ...(resin && { resin: pick(resin, ['name', 'maker', 'colour']) }),
    ...(bottle && { bottle: pick(bottle, ['name', 'batch', 'openedOn']) }),
    ...(reading && measuredBy(reading)),
    ...(own.photoJpeg && { photoJpeg: own.photoJpeg.toString('base64') }),
    method: methodOf(reading),
    ...(own.note && { note: own.note }),
  }
}

function pixelOf(printer: Printer | undefined, reading: ReadLadder | undefined) {
  const pixelPitchUm = reading?.design.pixelPitchUm ?? printer?.pixelPitchUm
  return pixelPitchUm === undefined ? {} : { pixelPitchUm }
}

function methodOf(reading: ReadLadder | undefined): string {
  if (!reading) return 'Entered by hand; nothing was measured with it.'
  const read = reading.rungs.filter((rung) => 'growthUm' in rung).length
  return (
    `One photograph of a ladder of ${reading.rungs.length} coupons, ${read} of them read: widths of grooves and walls, ` +
    'fitted against the logarithm of exposure; Stepglass.'
  )
}

function measuredBy(reading: ReadLadder): Partial<SettingSheet> {
  const { suggestion, usableRange, growthFit, rungs } = reading
  const every = Math.max(1, Math.ceil((growthFit?.curve.length ?? 0) / MOST_CURVE_POINTS))
  return {
    ...(usableRange && {
      usableRange: {
        toleranceUm: usableRange.toleranceUm,
        rangeS: inOrder(usableRange.rangeS),
        reachesEnd: { ...usableRange.reachesEnd },
      },
    }),
    ...(growthFit && {
      growth: {
        rungs: rungs.flatMap((rung) =>
          'growthUm' in rung ? [{ exposureS: rung.exposureS, growthUm: rounded(rung.growthUm) }] : [],
        ),
        curve: growthFit.curve
          .filter((_, i, { length }) => i % every === 0 || i === length - 1)
          .map(({ exposureS, growthUm, lowUm, highUm }) => ({
            exposureS: digits(exposureS, 4),
            growthUm: digits(growthUm, 4),
            lowUm: digits(lowUm, 4),
            highUm: digits(highUm, 4),
          })),
      },
    }),
    ...(suggestion && {
      ...smallestSizes(reading, suggestion),
      ...(suggestion.expectedHaze && { haze: rounded(suggestion.expectedHaze) }),
      ...(suggestion.expectedYellownessPerMm && { yellownessPerMm: rounded(suggestion.expectedYellownessPerMm) }),
      howSure: suggestion.confidence.slice(0, 600),
      chosenBecause: suggestion.rule.slice(0, 300),
      ...(suggestion.limitedBy && { limitedBy: suggestion.limitedBy.slice(0, 300) }),
    }),
    ...otherHeights(reading),
  }
}

/** From the fit of what survives; where all sizes stand and none can be fitted, as seen on the nearest coupon. */
function smallestSizes(
  { rungs }: ReadLadder,
  { exposureS, safeLineUm, safeSpaceUm }: NonNullable<ReadLadder['suggestion']>,
): Pick<SettingSheet, 'lineUm' | 'spaceUm' | 'sizesFrom'> {
  const sizes = (lineUm: number | null | undefined, spaceUm: number | null | undefined) => ({
    ...(typeof lineUm === 'number' && { lineUm: digits(lineUm, 3) }),
    ...(typeof spaceUm === 'number' && { spaceUm: digits(spaceUm, 3) }),
  })
  if (safeLineUm || safeSpaceUm) return { ...sizes(safeLineUm?.value, safeSpaceUm?.value), sizesFrom: 'survival' }
  const away = (rung: { readonly exposureS: number }) => Math.abs(Math.log(rung.exposureS / exposureS))
  const [nearest] = rungs.filter((rung) => 'growthUm' in rung).sort((a, b) => away(a) - away(b))
  return { ...sizes(nearest?.smallestLineUm, nearest?.smallestSpaceUm), sizesFrom: 'nearest-coupon' }
}

/** The bracket at other layer heights, as far as the ladder's own gaps tell. */
function otherHeights(reading: ReadLadder): Pick<SettingSheet, 'otherHeights'> {
  const source = layerSourceOf(reading)
  if (!source.ok) return {}
  const heights = OTHER_HEIGHTS_UM.filter((height) => height !== reading.design.layerHeightUm)
  return {
    otherHeights: heights.map((layerHeightUm) => ({
      layerHeightUm,
      rangeS: inOrder(changeLayerHeight({ ...source.value, toUm: layerHeightUm }).bracketS),
    })),
  }
}

const rounded = ({ value, standardUncertainty }: { value: number; standardUncertainty: number }) => ({
  value: digits(value, 4),
  standardUncertainty: digits(standardUncertainty, 3),
})

const pick = <T extends object, K extends keyof T>(from: T, names: readonly K[]) =>
  Object.fromEntries(names.flatMap((name) => (from[name] === undefined ? [] : [[name, from[name]]]))) as Pick<T, K>
