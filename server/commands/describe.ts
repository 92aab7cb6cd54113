import { LadderLayout, LadderReading } from '../../analysis/index.js'
import { SettingSheet } from '../api/sheets.js'
import { layoutOf, type DesignOptions } from './design.js'

const print = (value: unknown) => console.log(JSON.stringify(value, undefined, 2))

/** Prints a layout, or one part of it. */
export function layout(flags: DesignOptions & { part?: 'coupon' | 'card' }): void {
  const whole = layoutOf(flags)
  print(flags.part === undefined ? whole : whole[flags.part])
}

/** Prints the JSON Schema of a result. */
export function schema(what: 'reading' | 'layout' | 'setting'): void {
  const shape = { reading: LadderReading, layout: LadderLayout, setting: SettingSheet }[what]
  print({ $schema: 'http://json-schema.org/draft-07/schema#', ...shape })
}
