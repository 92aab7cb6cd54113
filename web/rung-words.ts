import type { LadderDesign } from '../server/api/ladders.js'
import { formatExposure, formatExposures, inMarks } from './format.js'
import { processTexts } from './texts/process.js'

/** A level with its unit: `10 min`, `P800`. */
export const levelName = (factor: NonNullable<LadderDesign['factor']>, level: string): string =>
  `${inMarks(level)} ${processTexts.units[factor]}`.trim()

/** What sets one rung of a ladder apart: `2.5 s`, `10 min`, `P800`. */
export function rungName({ factor, levels, exposuresS }: LadderDesign, slot: number): string {
  const level = levels?.[slot - 1]
  return factor && level !== undefined ? levelName(factor, level) : `${formatExposure(exposuresS[slot - 1] ?? NaN)} s`
}

/** All rungs of a ladder in a line. */
export const rungNames = ({ factor, levels, exposuresS }: LadderDesign): string =>
  factor && levels
    ? `${processTexts.factors[factor]} ${levelName(factor, levels.join('; '))}`
    : `${formatExposures(exposuresS)} s`
