import { formatNumber, formatShort } from './format.js'
import { recallText, rememberText } from './remembered.js'

export type Units = 'metric' | 'both'

/** Exact by definition: an inch is 25.4 mm (international yard and pound agreement, 1959). */
const UM_PER_MIL = 25.4

export const units: Units = recallText('units') === 'both' ? 'both' : 'metric'

/** Like the language, fixed when the page loads. */
export function chooseUnits(name: Units): void {
  rememberText('units', name)
  window.location.reload()
}

/** A length in um as mil in brackets, for whoever asked for it; else nothing. */
export const inMil = (um: number, chosen: Units = units): string =>
  chosen === 'both' ? ` (${formatNumber(um / UM_PER_MIL, 2)}\u00a0mil)` : ''

/** A length given in um as millimetres, and as inches for whoever asked for them. */
export const millimetres = (um: number): string => `${formatShort(um / 1000)} mm${inInches(um / 1000)}`

/** A length in um, and as mil for whoever asked for it. */
export const micrometres = (um: number): string => `${formatShort(um)} µm${inMil(um)}`

/** A length in mm as inches in brackets, for whoever asked for it; else nothing. */
export const inInches = (mm: number, chosen: Units = units): string =>
  chosen === 'both' ? ` (${formatShort(mm / 25.4, 3)}\u00a0in)` : ''
