import type { LadderReading, MeasureOptions } from './result.js'

/** The steps of reading a photograph, in order; `share` of the whole work done when the step begins. */
export interface Stage {
  readonly stage: 'decode' | 'find-card' | 'tone' | 'coupons' | 'fit'
  readonly share: number
}

/**
 * Reads one photograph of one ladder on its card.
 *
 * @param photo the bytes of a JPEG, PNG, WebP, TIFF, AVIF or HEIC file
 * @param options see `MeasureOptions`; what is left out takes the default stated there
 * @param onStage told when each step begins
 * @returns the reading; a photograph that cannot be read is a result with `refusal`, never an exception
 */
export async function measureLadder(
  _photo: Uint8Array,
  _options: Partial<MeasureOptions> = {},
  onStage: (stage: Stage) => void = () => undefined,
): Promise<LadderReading> {
  onStage({ stage: 'decode', share: 0 })
  return Promise.resolve({
    schema: 'stepglass-reading-1',
    refusal: { code: 'not-yet', advice: 'The reader is being written.' },
  })
}
