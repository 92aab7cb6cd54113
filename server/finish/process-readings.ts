import {
  measuredOf,
  refuse,
  spreadOfPhoto,
  type Outcome,
  type ProcessOf,
  type ReadLadder,
  type ReadRung,
  type readProcessLadder,
} from '../../analysis/index.js'

type Readings = Parameters<typeof readProcessLadder>[1]

/** A coupon of a stored or loaded reading, and what was done to it. */
export interface ProcessCoupon {
  readonly readingId: string
  readonly slot: number
  readonly level: string
}

/**
 * The responses of coupons that were treated differently.
 *
 * @returns in the order given, or a refusal `no-response` for a coupon without that reading
 */
export function processReadings(
  readings: ReadonlyMap<string, ReadLadder>,
  of: ProcessOf,
  coupons: readonly ProcessCoupon[],
): Outcome<Readings> {
  const found: Readings[number][] = []
  for (const { readingId, slot, level } of coupons) {
    const reading = readings.get(readingId)
    const rung = reading?.rungs.find((one) => one.slot === slot)
    const read = rung && 'growthUm' in rung ? rung : undefined
    const measured = read && measuredOf(read, of)
    if (!reading || !measured) {
      return refuse(
        'no-response',
        `Leave slot ${slot} out or photograph it again: its ${of} could not be read.`,
        readingId,
      )
    }
    found.push({
      level,
      ...measured,
      photoUncertainty: photoUncertainty(reading, read, of),
      coupon: `${reading.design.ladderId} ${slot}`,
      photo: readingId,
    })
  }
  return { ok: true, value: found }
}

/** What the photograph of a coupon adds to it and all others on it. */
function photoUncertainty(reading: ReadLadder, { growthUm }: ReadRung, of: ProcessOf): number {
  const { haze, yellowness } = spreadOfPhoto(reading)
  switch (of) {
    case 'haze':
      return haze
    case 'yellownessPerMm':
      return yellowness
    case 'growthUm':
      return Math.sqrt(Math.max(0, growthUm.standardUncertainty ** 2 - growthUm.withinPhotoUncertainty ** 2))
  }
}
