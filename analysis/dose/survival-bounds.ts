import { refuse, type Outcome } from '../outcome.js'
import { seconds } from './dose-to-size.js'
import {
  exposureForSurvival,
  fitSurvival,
  type FeatureKind,
  type SurvivalModel,
  type SurvivalPoint,
} from './survival-model.js'
import { findSurvivalRange, type SurvivalRung, type WantedFeatures } from './survival-range.js'

/** One side on which a wanted feature bounds the exposure. */
export interface SurvivalBound {
  readonly kind: FeatureKind
  readonly wantedUm: number
  /** Lowest exposure for a line, highest for a space, s. */
  readonly exposureS: number
  /** `model`: there it survives with 95 % chance; `seen`: as far as it was seen to survive on every rung. */
  readonly basis: 'model' | 'seen'
  /** 95 % of `exposureS` by the model, cut at the rungs. */
  readonly interval?: SurvivalPoint['interval']
  /** `0.2 mm walls, which stand with 95 % chance only from 2.7 s up` */
  readonly inWords: string
}

/** Chance at which a wanted feature counts as safe. */
export const SAFE_CHANCE = 0.95

/** Models of what survives on a ladder, by kind; a kind without failures or without survivors has none. */
export type SurvivalModels = Readonly<Record<FeatureKind, Outcome<SurvivalModel>>>

/** @param rungs those without `isolated` are passed over */
export function fitSurvivals(rungs: readonly SurvivalRung[]): SurvivalModels {
  const of = (wanted: FeatureKind) =>
    fitSurvival(
      wanted,
      rungs.flatMap(({ exposureS, isolated = [] }) =>
        isolated.flatMap(({ kind, ...one }) => (kind === wanted ? [{ exposureS, ...one }] : [])),
      ),
    )
  return { line: of('line'), space: of('space') }
}

/**
 * Bounds that the wanted line and space put on the exposure.
 *
 * Where the model of survival reaches 95 % between the rungs, that exposure; where it does not, or where nothing failed,
 * what the rungs were seen to bear.
 *
 * @returns at most one bound a kind, or a refusal as in `findSurvivalRange`; besides, `wanted-size-not-printed` when the
 *   wanted feature is narrower than all that were printed, of which no rung can tell
 */
export function findSurvivalBounds(
  rungs: readonly SurvivalRung[],
  models: SurvivalModels,
  wanted: WantedFeatures,
): Outcome<readonly SurvivalBound[]> {
  const unprinted = narrowerThanPrinted(rungs, wanted)
  if (unprinted) return unprinted
  const seen = findSurvivalRange(rungs, wanted)
  if (!seen.ok) return seen
  const bounds = [
    boundOf('line', models.line, wanted.wantedLineUm, seen.value.lineFromS),
    boundOf('space', models.space, wanted.wantedSpaceUm, seen.value.spaceUpToS),
  ].flatMap((bound) => bound ?? [])
  const [line, space] = (['line', 'space'] as const).map((kind) => bounds.find((bound) => bound.kind === kind))
  if (line && space && line.exposureS > space.exposureS) {
    return refuse(
      'wanted-features-exclude-each-other',
      'Draw thicker lines or wider spaces.',
      `${line.inWords}; ${space.inWords}`,
    )
  }
  return { ok: true, value: bounds }
}

function boundOf(
  kind: FeatureKind,
  model: Outcome<SurvivalModel>,
  wantedUm: number | undefined,
  seenS: number | null,
): SurvivalBound | undefined {
  if (wantedUm === undefined || seenS === null) return undefined
  if (model.ok) {
    // What is wider than all that were printed survives at least as surely as the widest.
    const nominalUm = Math.min(wantedUm, model.value.rangeUm[1])
    const safe = exposureForSurvival(model.value, { nominalUm, chance: SAFE_CHANCE })
    if (safe.ok) {
      const { value: exposureS, interval } = safe.value
      return { kind, wantedUm, exposureS, basis: 'model', interval, inWords: words(kind, wantedUm, exposureS, 'model') }
    }
    if (safe.refusal.code === 'survives-throughout') return undefined
  }
  return { kind, wantedUm, exposureS: seenS, basis: 'seen', inWords: words(kind, wantedUm, seenS, 'seen') }
}

function words(kind: FeatureKind, wantedUm: number, exposureS: number, basis: SurvivalBound['basis']): string {
  const surely = basis === 'model' ? ' with 95 % chance' : ''
  return kind === 'line'
    ? `${Number((wantedUm / 1000).toFixed(3))} mm walls, which stand${surely} only from ${seconds(exposureS)} up`
    : `${Number((wantedUm / 1000).toFixed(3))} mm gaps, which stay open${surely} only up to ${seconds(exposureS)}`
}

function narrowerThanPrinted(rungs: readonly SurvivalRung[], { wantedLineUm, wantedSpaceUm }: WantedFeatures) {
  const wanted = { line: wantedLineUm, space: wantedSpaceUm }
  for (const kind of ['line', 'space'] as const) {
    const printed = rungs.flatMap(({ isolated = [] }) => isolated.filter((one) => one.kind === kind))
    const narrowest = Math.min(...printed.map(({ nominalUm }) => nominalUm))
    const wish = wanted[kind]
    if (printed.length > 0 && wish !== undefined && wish < narrowest) {
      return refuse(
        'wanted-size-not-printed',
        `Ask for ${kind}s of at least ${narrowest} um: the coupon has none narrower.`,
        `no ${kind} of ${wish} um was printed, the narrowest is ${narrowest} um`,
      )
    }
  }
  return undefined
}
