import { NumberField } from '../views/number-field.js'
import type { SheetFields } from './sheet-fields.js'

interface Props<Name extends string> extends Omit<Parameters<typeof NumberField>[0], 'value' | 'onChange'> {
  readonly fields: SheetFields<Name>
  readonly name: Name
}

/** A number that the data sheet may fill in; its hint then says so instead. */
export function SheetField<Name extends string>({ fields, name, hint, ...more }: Props<Name>) {
  const from = fields.hintOf(name, hint)
  return (
    <NumberField value={fields.valueOf(name)} onChange={fields.set(name)} {...(from && { hint: from })} {...more} />
  )
}
