const MJ_PER_J = 1000

/**
 * Radiant exposure H = E t at the surface: 10 mW/cm2 for 600 s are 6 J/cm2.
 *
 * @param irradianceMwPerCm2 at the part, from the side meant
 * @throws {RangeError} if an argument is not above 0
 */
export function radiantExposureJPerCm2(irradianceMwPerCm2: number, lightS: number): number {
  requirePositive('radiantExposureJPerCm2', { irradianceMwPerCm2, lightS })
  return (irradianceMwPerCm2 * lightS) / MJ_PER_J
}

/**
 * Time under another lamp for equal radiant exposure: t2 = t1 P1 / P2.
 *
 * Powers stand in for irradiances, so it assumes lamps alike in colour, distance and spread.
 *
 * @param from power or irradiance of the lamp the time was given for, in any unit
 * @param to that of the other lamp, in the same unit
 * @throws {RangeError} if an argument is not above 0
 * @example equalExposureS(300, 40, 70) // 171 s: 5 min at 40 W are 2 min 51 s at 70 W; common practice
 */
export function equalExposureS(lightS: number, from: number, to: number): number {
  requirePositive('equalExposureS', { lightS, from, to })
  return (lightS * from) / to
}

/** @throws {RangeError} for the first value that is not a finite number above 0 */
export function requirePositive(name: string, values: Readonly<Record<string, number>>): void {
  for (const [what, value] of Object.entries(values)) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} needs ${what} above 0, got ${value}`)
  }
}
