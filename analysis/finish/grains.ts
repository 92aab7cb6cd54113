/** Two scales whose equal numbers are different grains: P of ISO 6344 (FEPA), # of JIS R 6001. */
export type GritScale = 'P' | 'JIS'

export interface Grit {
  readonly scale: GritScale
  /** As printed on the sheet: P 800, JIS #800. */
  readonly number: number
  /** Mean grain, um. */
  readonly grainUm: number
}

/**
 * P grades: mean grain, um, coarsest first. ISO 6344-2 and -3 (FEPA 43-1), as a public chart of the scales prints them
 * (https://stusshed.wordpress.com/2008/03/24/); P60 to P120 also on http://sizes.com/tools/sandpaper.htm.
 */
const P: readonly (readonly [number, number])[] = [
  [60, 269],
  [80, 201],
  [100, 162],
  [120, 125],
  [150, 100],
  [180, 82],
  [220, 68],
  [240, 58.5],
  [280, 52.2],
  [320, 46.2],
  [360, 40.5],
  [400, 35],
  [500, 30.2],
  [600, 25.8],
  [800, 21.8],
  [1000, 18.3],
  [1200, 15.3],
  [1500, 12.6],
  [2000, 10.3],
  [2500, 8.4],
]

/**
 * JIS R 6001-2 precision grades, median by electrical resistance, um [all from memory]. #4000 to #8000 also on the chart
 * above, whose water stones of #1000 and #2000 are coarser: 14 and 7.5.
 */
const JIS: readonly (readonly [number, number])[] = [
  [240, 57],
  [320, 40],
  [400, 30],
  [600, 20],
  [800, 14],
  [1000, 11.5],
  [1200, 9.5],
  [1500, 8],
  [2000, 6.7],
  [2500, 5.5],
  [3000, 4],
  [4000, 3],
  [6000, 2],
  [8000, 1.2],
]

const grades = (scale: GritScale, table: typeof P): readonly Grit[] =>
  table.map(([number, grainUm]) => ({ scale, number, grainUm }))

/** Both scales, each from coarse to fine. */
export const GRITS: Readonly<Record<GritScale, readonly Grit[]>> = { P: grades('P', P), JIS: grades('JIS', JIS) }

/** `P 800` or `JIS #4000`: the scale is part of the name. */
export const gritName = ({ scale, number }: Grit): string => (scale === 'P' ? `P ${number}` : `JIS #${number}`)
