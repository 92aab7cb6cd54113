import type { MeasureOptions } from './result.js'

/** What is taken where a caller says nothing, as `MeasureOptions` states. */
export const DEFAULT_OPTIONS: MeasureOptions = { toleranceUm: 20, timeStepS: 0.1, keepProfiles: false }
