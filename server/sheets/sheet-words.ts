import type { SettingSheet } from '../api/sheets.js'
import { RESIN_CAUTIONS } from '../printables/cautions.js'
import { short, withUncertainty } from '../report/numbers.js'

/** A sheet in words: what every form of it says, whatever it looks like. */
export interface SheetWords {
  readonly title: string
  /** Exposure with its unit. */
  readonly exposure: string
  /** How far it may be off, in a few words. */
  readonly range: string
  /** Said first and largest when the sheet is good for no resin. */
  readonly warning?: string
  readonly facts: readonly (readonly [what: string, value: string])[]
  readonly invalidWhen: readonly string[]
  readonly cautions: string
}

const range = ([low, high]: readonly [number, number]) => `${short(low)} to ${short(high)}`

function usable({ toleranceUm, rangeS, reachesEnd: { low, high } }: NonNullable<SettingSheet['usableRange']>): string {
  const beyond = low || high ? '; perhaps wider, where the ladder ended' : ''
  return `${range(rangeS)} s for growth within ${short(toleranceUm)} µm per side${beyond}`
}

function printerOf({ printer, pixelPitchUm, timeStepS, irradianceMwPerCm2 }: SettingSheet): string | undefined {
  const parts = [
    ...(printer === undefined ? [] : [printer]),
    ...(pixelPitchUm === undefined ? [] : [`${pixelPitchUm} µm pixels`]),
    ...(timeStepS === undefined ? [] : [`time step ${timeStepS} s`]),
    ...(irradianceMwPerCm2 === undefined ? [] : [`${irradianceMwPerCm2} mW/cm² as last read`]),
  ]
  return parts.length > 0 ? parts.join(', ') : undefined
}

const joined = (...parts: readonly (string | undefined)[]) => parts.filter(Boolean).join(', ')

function factsOf(sheet: SettingSheet): [string, string | undefined][] {
  const { resin, bottle, haze, yellownessPerMm, lineUm, spaceUm, sizesFrom } = sheet
  const basis = sizesFrom === 'survival' ? 'with 95 % chance' : 'seen on the coupon nearest in exposure'
  return [
    ['Layer height', `${sheet.layerHeightUm} µm`],
    ['Resin', resin && joined(resin.name, resin.maker, resin.colour)],
    [
      'Bottle',
      bottle &&
        joined(bottle.name, bottle.batch && `batch ${bottle.batch}`, bottle.openedOn && `opened ${bottle.openedOn}`),
    ],
    ['Printer', printerOf(sheet)],
    ['Resin temperature', sheet.temperatureC === undefined ? undefined : `${sheet.temperatureC} °C`],
    ['Usable range', sheet.usableRange && usable(sheet.usableRange)],
    ['Lines stand from', lineUm === undefined ? undefined : `${short(lineUm)} µm, ${basis}`],
    ['Spaces stay open from', spaceUm === undefined ? undefined : `${short(spaceUm)} µm, ${basis}`],
    ['Haze index', haze && `${withUncertainty(haze)} (k = 1; our own index, not a standard’s haze)`],
    ['Yellowness', yellownessPerMm && `${withUncertainty(yellownessPerMm)} per mm (k = 1; log ratio of red to blue)`],
    ['How sure', sheet.howSure],
    ['Chosen because', sheet.chosenBecause],
    ['Limited by', sheet.limitedBy],
    ['Measured', sheet.method],
    ['Note', sheet.note],
    ['Made', joined(sheet.madeOn, sheet.madeBy && `by ${sheet.madeBy}`, `sheet ${sheet.sheetId}`)],
  ]
}

function invalidWhen({ otherHeights = [] }: SettingSheet): string[] {
  const heights = otherHeights.map(({ layerHeightUm, rangeS }) => `${layerHeightUm} µm: ${range(rangeS)} s`)
  return [
    'another bottle, batch or printer: print three rungs about this exposure first',
    'an older lamp, a changed film or mask, or a resin more than a few degrees colder or warmer',
    heights.length > 0
      ? `another layer height; the exposure may lie anywhere in these ranges, and a ladder there decides: ${heights.join('; ')}`
      : 'another layer height: print a ladder there',
  ]
}

/** What a sheet says. */
export function sheetWords(sheet: SettingSheet): SheetWords {
  return {
    title: joined(sheet.resin?.name ?? 'Clear resin', `${sheet.layerHeightUm} µm layers`, sheet.printer),
    exposure: `${short(sheet.exposureS)} s`,
    range: sheet.intervalS
      ? `between ${range(sheet.intervalS).replace(' to ', ' and ')} s with 95 % confidence`
      : 'with no interval: nothing says how far it may be off',
    ...(sheet.simulated && { warning: 'From a simulated photograph: an example, good for no resin.' }),
    facts: factsOf(sheet).flatMap(([what, value]) => (value ? [[what, value] as const] : [])),
    invalidWhen: invalidWhen(sheet),
    cautions: RESIN_CAUTIONS,
  }
}

/** The sheet as a message of plain text. */
export function sheetText(sheet: SettingSheet): string {
  const { title, exposure, range, warning, facts, invalidWhen, cautions } = sheetWords(sheet)
  return [
    ...(warning ? [warning, ''] : []),
    `Layer exposure ${exposure}, ${range}`,
    title,
    '',
    ...facts.map(([what, value]) => `${what}: ${value}`),
    '',
    'It no longer holds with',
    ...invalidWhen.map((line) => `- ${line}`),
    '',
    cautions,
    '',
  ].join('\n')
}
