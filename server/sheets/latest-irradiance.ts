import type { Printer } from '../api/records.js'

/** The irradiance of a printer as last read, mW/cm2, in whatever order its readings were entered. */
export const latestIrradiance = (printer: Printer | undefined): number | undefined =>
  [...(printer?.irradiance ?? [])].sort((a, b) => a.date.localeCompare(b.date)).at(-1)?.mwPerCm2
