import { changeLamp, spreadLadder } from '../../analysis/index.js'
import type { Adapted, SettingSheet } from '../api/sheets.js'

/** Three rungs reach this far either way at least: what one printer's display reads and another's differ by easily. */
const LEAST_REACH = 1.25
const DEFAULT_TIME_STEP_S = 0.1

/**
 * A setting carried to another printer: by irradiance a first guess where both are known, and in any case three rungs
 * about it, to be printed and read before the setting is trusted.
 */
export function adaptSetting(
  { exposureS, intervalS, ...sheet }: SettingSheet,
  to: {
    readonly mwPerCm2?: number | undefined
    readonly timeStepS?: number | undefined
    readonly fromMwPerCm2?: number | undefined
  },
): Adapted {
  const from = to.fromMwPerCm2 ?? sheet.irradianceMwPerCm2
  const carried =
    from !== undefined && to.mwPerCm2 !== undefined
      ? changeLamp({
          exposureS,
          intervalS,
          from: { mwPerCm2: from },
          to: { mwPerCm2: to.mwPerCm2 },
          reason: 'printer',
        })
      : undefined
  const centreS = carried?.exposureS ?? exposureS
  const [lowS, highS] = carried?.intervalS ?? intervalS ?? [centreS, centreS]
  const threeRungsS = spreadLadder({
    fromS: Math.min(lowS, centreS / LEAST_REACH),
    toS: Math.max(highS, centreS * LEAST_REACH),
    rungs: 3,
    timeStepS: to.timeStepS ?? sheet.timeStepS ?? DEFAULT_TIME_STEP_S,
  })
  const rungs = `Print ${threeRungsS.join(', ')} s, photograph them, and take what they say.`
  return {
    ...(carried && {
      byIrradiance: { exposureS: carried.exposureS, intervalS: [...carried.intervalS], caution: carried.caution },
    }),
    threeRungsS,
    inWords: carried
      ? `For the same dose: about ${carried.exposureS.toPrecision(3)} s. ${carried.caution} ${rungs}`
      : `Without the irradiance of both printers there is no first guess but the exposure itself. ${rungs}`,
  }
}
