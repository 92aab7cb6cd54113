/** Irradiance at the window, mW/cm2, with its relative standard uncertainty. */
export interface Irradiance {
  readonly mwPerCm2: number
  /** Default 0.05: what a hand-held meter and the unevenness of a lamp leave; common practice, no source. */
  readonly relativeUncertainty?: number | undefined
}

/** Energy per area that one exposure delivers. */
export interface Dose {
  readonly mjPerCm2: number
  readonly standardUncertainty: number
}

const DEFAULT_UNCERTAINTY = 0.05
/** Of a normal distribution, for a relative uncertainty taken as known. */
const COVERAGE = 1.96

/**
 * Dose = irradiance x time; mW/cm2 times s is mJ/cm2. The time is taken as exact.
 *
 * @throws {RangeError} if exposure or irradiance is not above 0
 * @example doseOf(2.5, { mwPerCm2: 3 }) // 7.5 mJ/cm2, u = 0.38
 */
export function doseOf(exposureS: number, irradiance: Irradiance): Dose {
  const [mwPerCm2, u] = checked('doseOf', exposureS, irradiance)
  return { mjPerCm2: exposureS * mwPerCm2, standardUncertainty: exposureS * mwPerCm2 * u }
}

export interface LampChange {
  /** Exposure that is right under the first lamp, s, with its 95 % interval where known. */
  readonly exposureS: number
  readonly intervalS?: readonly [number, number] | undefined
  readonly from: Irradiance
  readonly to: Irradiance
  /** `ageing`: the same printer, later, with the same meter at the same place. `printer`: another printer. */
  readonly reason: 'ageing' | 'printer'
}

export interface LampAnswer {
  /** s, for the same dose. */
  readonly exposureS: number
  /** 95 %, s, of the same dose; it does not hold what makes two printers differ at the same dose. */
  readonly intervalS: readonly [number, number]
  readonly doseMjPerCm2: number
  readonly caution: string
}

const CAUTIONS = {
  ageing:
    'Holds while the lamp only grows weaker. A changed film, mask or wavelength needs a new ladder; print three rungs about it when the change exceeds a fifth.',
  printer:
    'A start for a ladder, not a setting: between set-ups the critical dose of one resin has differed up to 70-fold and its penetration depth up to 7-fold (24 laboratories, Addit. Manuf. 84 (2024) 104082).',
} as const

/**
 * Exposure under another irradiance: the same dose, t2 = t1 I1 / I2.
 *
 * With one meter its own error cancels, so ageing takes only a third of each stated uncertainty, the repeatability;
 * common practice, no source. Another printer takes both in full.
 *
 * @throws {RangeError} if an exposure or irradiance is not above 0
 */
export function changeLamp({
  exposureS,
  intervalS = [exposureS, exposureS],
  from,
  to,
  reason,
}: LampChange): LampAnswer {
  const [first, uFirst] = checked('changeLamp', exposureS, from)
  const [second, uSecond] = checked('changeLamp', exposureS, to)
  const share = reason === 'ageing' ? 1 / 3 : 1
  const ofLamps = COVERAGE * share * Math.hypot(uFirst, uSecond)
  const answerS = (exposureS * first) / second
  const end = (which: 0 | 1) => {
    const own = Math.abs(Math.log(intervalS[which] / exposureS))
    return answerS * Math.exp((which === 0 ? -1 : 1) * Math.hypot(own, ofLamps))
  }
  return { exposureS: answerS, intervalS: [end(0), end(1)], doseMjPerCm2: exposureS * first, caution: CAUTIONS[reason] }
}

function checked(name: string, exposureS: number, irradiance: Irradiance): [number, number] {
  const { mwPerCm2, relativeUncertainty = DEFAULT_UNCERTAINTY } = irradiance
  if (!(exposureS > 0 && exposureS < Infinity))
    throw new RangeError(`${name} needs an exposure above 0, got ${exposureS}`)
  if (!(mwPerCm2 > 0 && mwPerCm2 < Infinity))
    throw new RangeError(`${name} needs an irradiance above 0, got ${mwPerCm2}`)
  return [mwPerCm2, relativeUncertainty]
}
