/**
 * What the rungs of a ladder can differ in instead of exposure: every coupon is then printed at the same exposure, and
 * treated as its rung says.
 *
 * - `code`: two letters on the card
 * - `unit`: of its levels; none where they are names
 * - `when`: whether coupons differ by how they are printed or by what is done to them afterwards
 */
export const FACTORS = {
  'post-cure-time': { code: 'PT', unit: 'min', name: 'post-cure time', when: 'afterwards' },
  'post-cure-stages': { code: 'PS', unit: 'stages', name: 'post-cure stages', when: 'afterwards' },
  grit: { code: 'GR', unit: '', name: 'grit', when: 'afterwards' },
  coat: { code: 'CO', unit: '', name: 'coat', when: 'afterwards' },
  'stand-time': { code: 'ST', unit: 'min', name: 'stand time', when: 'printing' },
  'resin-temperature': { code: 'RT', unit: '°C', name: 'resin temperature', when: 'printing' },
  age: { code: 'AG', unit: 'days', name: 'age', when: 'afterwards' },
} as const satisfies Readonly<
  Record<string, { code: string; unit: string; name: string; when: 'printing' | 'afterwards' }>
>
export type Factor = keyof typeof FACTORS

/** The factor that two letters on a card stand for. */
export const factorOfCode = (code: string | undefined): Factor | undefined =>
  (Object.keys(FACTORS) as Factor[]).find((name) => FACTORS[name].code === code)

/** A level with its unit, as it is written: `10 min`, `P800`. */
export const levelText = (factor: Factor, level: string): string => `${level} ${FACTORS[factor].unit}`.trim()

/** What makes a rung of a ladder differ from the others, as it is written: `2.5 s`, `10 min`, `P800`. */
export function rungText(
  design: { readonly exposuresS: readonly number[]; readonly factor?: Factor; readonly levels?: readonly string[] },
  slot: number,
): string {
  const level = design.levels?.[slot - 1]
  return design.factor === undefined || level === undefined
    ? `${design.exposuresS[slot - 1]} s`
    : levelText(design.factor, level)
}
