import type { Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { fitExposureTrend, type ExposureTrend } from './exposure-trend.js'

/** What is read of windows and goes with exposure. */
export type WindowResponse = 'haze' | 'yellownessPerMm'

/**
 * Share of a reading's variance that all windows of its photograph have in common: light that passes beside the plate,
 * surroundings, tone. Chosen on seven simulated frames of the first edition of cards, of which levels were off by 1.6 standard
 * uncertainties (rms) while readings counted as independent; the four of `samples` are off by 0.7 in trend and 0.6 in level of
 * haze, by 0.9 and 0.6 of yellowness.
 */
const IN_COMMON: Readonly<Record<WindowResponse, number>> = { haze: 0.45, yellownessPerMm: 0.85 }

/**
 * Trend of haze or yellowness with exposure over the rungs of one photograph.
 *
 * What the windows have in common moves the level, not the trend: it is left out of the fit and added to what is expected.
 *
 * @returns as `fitExposureTrend`
 */
export function fitWindowTrend(
  rungs: readonly ({ readonly exposureS: number } & { readonly [K in WindowResponse]?: Estimate | undefined })[],
  of: WindowResponse,
): Outcome<ExposureTrend> {
  const read = rungs.flatMap(({ exposureS, [of]: measured }) => (measured ? [{ exposureS, measured }] : []))
  const own = Math.sqrt(1 - IN_COMMON[of])
  const fit = fitExposureTrend(
    read.map(({ exposureS, measured }) => ({
      exposureS,
      measured: { ...measured, standardUncertainty: own * measured.standardUncertainty },
    })),
  )
  if (!fit.ok) return fit
  const meanSquare = read.reduce((sum, { measured }) => sum + measured.standardUncertainty ** 2, 0) / read.length
  const common = Math.sqrt(IN_COMMON[of] * meanSquare)
  return {
    ok: true,
    value: {
      ...fit.value,
      at: (exposureS) => {
        const { value, standardUncertainty, degreesOfFreedom } = fit.value.at(exposureS)
        return makeEstimate(value, Math.hypot(standardUncertainty, common), degreesOfFreedom)
      },
    },
  }
}
