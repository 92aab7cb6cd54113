import type { ExposureInterval } from './dose-to-size.js'
import { evaluateGrowth, type GrowthFit } from './growth-fit.js'
import type { Choice } from './choose-exposure.js'
import { decimalsOfStep } from './time-step.js'

export interface ConfidenceInput {
  readonly exposureS: number
  readonly interval: ExposureInterval
  readonly fit: GrowthFit
  readonly timeStepS: number
  readonly aim: Choice['chosenBy']
  /** How many caliper readings anchor the growth. */
  readonly caliperTabs: number
}

/** What a sentence of how sure a suggestion is rests on. */
export interface ConfidenceBasis {
  /** Ends of the interval at which the ladder stops. */
  readonly reachesEnd: ExposureInterval['reachesEnd']
  /** Rungs that came out too small, and too big. */
  readonly rungs: { readonly small: number; readonly big: number }
  /** Whether most of the doubt is an offset shared by the whole photo. */
  readonly mostlyShared: boolean
  readonly caliperTabs: number
}

export function confidenceBasis({ exposureS, interval, fit, caliperTabs }: ConfidenceInput): ConfidenceBasis {
  const small = fit.rungs.filter(({ growthUm }) => growthUm.value < 0).length
  const { varianceUm2 } = evaluateGrowth(fit.chosen, Math.log(exposureS / fit.referenceS))
  return {
    reachesEnd: interval.reachesEnd,
    rungs: { small, big: fit.rungs.length - small },
    mostlyShared: fit.commonUncertaintyUm ** 2 > varianceUm2,
    caliperTabs,
  }
}

/** How sure a suggestion is: its interval, what it rests on, what most of the doubt is, and whether a caliper anchors it. */
export function describeConfidence(input: ConfidenceInput): string {
  const { exposureS, interval, timeStepS, aim } = input
  const { reachesEnd, rungs, mostlyShared, caliperTabs } = confidenceBasis(input)
  // One digit more than the printer can set, so that a narrow interval does not collapse onto the setting.
  const inSeconds = (value: number) => value.toFixed(decimalsOfStep(timeStepS) + 1)
  const [low, high] = interval.intervalS
  const percent = (end: number) => `${end < exposureS ? '-' : '+'}${Math.abs((end / exposureS - 1) * 100).toFixed(0)} %`
  const sought = aim === 'dose-to-size' ? 'dose-to-size' : 'the exposure that gives this growth'
  const cut = [
    ...(reachesEnd.low ? ['below the lowest rung'] : []),
    ...(reachesEnd.high ? ['above the highest rung'] : []),
  ]
  return (
    `With 95 % confidence ${sought} lies between ${inSeconds(low)} and ${inSeconds(high)} s ` +
    `(${percent(low)} to ${percent(high)})` +
    (cut.length ? ` or ${cut.join(' or ')}, where this ladder cannot tell` : '') +
    `, from ${rungs.small + rungs.big} rungs, ${rungs.small} of them too small and ${rungs.big} too big` +
    (mostlyShared ? '; most of the doubt is an offset shared by the whole photo: ink, rims, camera.' : '.') +
    (caliperTabs === 0
      ? ' No caliper reading of the tabs anchors it.'
      : ` ${caliperTabs === 1 ? 'One caliper reading anchors' : `${caliperTabs} caliper readings anchor`} it.`)
  )
}
