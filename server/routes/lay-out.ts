import { ladderLayout, type LadderDesign, type LadderLayout } from '../../analysis/index.js'
import { ServiceError } from '../plugins/errors.js'

/** The geometry of a design; one that cannot be laid out is the caller's to change. */
export function layOut(design: LadderDesign): LadderLayout {
  try {
    return ladderLayout(design)
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    const advice = 'Change the design so that it can be laid out.'
    throw new ServiceError(422, 'no-such-layout', error.message, advice, { cause: error })
  }
}
