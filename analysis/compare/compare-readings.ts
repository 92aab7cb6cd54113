import { refuse, type Outcome } from '../outcome.js'
import type { RefusalReply } from '../result.js'
import type { Estimate } from '../statistics/estimate.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { adjustedP, simultaneousFactor } from '../statistics/simultaneous.js'
import { comparePhotos } from '../window/compare-photos.js'
import { compareGroups, type GroupComparison } from './compare-groups.js'
import { couponsNeeded, smallestDetectable } from './detectable.js'
import { differenceInWords, METHODS } from './in-words.js'
import { chartsOverTime } from './over-time.js'
import { collectResponses, type LabelledReading, type Responses } from './responses.js'
import type { CompareOptions, Comparison } from './schema.js'

/**
 * Compares the coupons of several readings: means, differences, what could not have shown, and charts over time.
 *
 * @returns the comparison, or a refusal: `nothing-to-compare`, `one-group`, or those of `compareGroups`
 */
export function compareReadings(readings: readonly LabelledReading[], options: CompareOptions): Outcome<Comparison> {
  const { by, of = 'haze', power = 0.8, wantedDifference } = options
  const found = collectResponses(readings, { ...options, of })
  const { responses } = found
  if (responses.length === 0) {
    return refuse(
      'nothing-to-compare',
      found.unlabelled > 0 ? `Say which ${by} the coupons are of.` : 'Choose readings whose windows were read.',
      `${found.unlabelled} coupons without a label, ${found.unread} without a reading of ${of}`,
    )
  }
  const compared = compareGroups(responses, by === 'exposure')
  if (!compared.ok) return compared
  const overTime = chartsOverTime(responses, of)
  if (compared.value.groups.length < 2 && overTime.length === 0) {
    return refuse(
      'one-group',
      `Choose coupons that differ in ${by}, or readings of at least six dates.`,
      `all are ${responses[0]!.group}`,
    )
  }
  const { groups, differences, method, sources } = compared.value
  return {
    ok: true,
    value: {
      schema: 'stepglass-comparison-1',
      by,
      of,
      power,
      ...(wantedDifference === undefined ? {} : { wantedDifference }),
      method,
      methodInWords: METHODS[method],
      groups: groups.map(({ group, coupons, photos, mean }) => ({
        group,
        coupons,
        photos,
        mean: describe(mean, coverageFactor(mean.degreesOfFreedom)),
        values: responses
          .filter((one) => one.group === group)
          .map(({ photo, ladderId, slot, exposureS, value, standardUncertainty }) => ({
            ...{ photo, ladderId, slot, exposureS, value, standardUncertainty },
          })),
      })),
      differences: differences.map((one) => describeDifference(one, compared.value, { of, power, wantedDifference })),
      sources: sources.map((source) => ({ ...source })),
      overTime,
      notes: [...notesOn(compared.value, found, by), ...photoNotes(readings, responses)],
    },
  }
}

function describe({ value, standardUncertainty, degreesOfFreedom }: Estimate, factor: number) {
  const half = factor * standardUncertainty
  return {
    value,
    standardUncertainty,
    ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }),
    interval: [value - half, value + half] as [number, number],
  }
}

function describeDifference(
  { pair, difference, scatterVariance, statedVariance }: GroupComparison['differences'][number],
  { groups, method }: GroupComparison,
  {
    of,
    power,
    wantedDifference: wanted,
  }: Required<Pick<CompareOptions, 'of' | 'power'>> & {
    wantedDifference: number | undefined
  },
): Comparison['differences'][number] {
  const [first, second] = pair.map((i) => groups[i]!) as [GroupComparison['groups'][number], (typeof groups)[number]]
  const coupons = 2 / (1 / first.coupons + 1 / second.coupons)
  const { degreesOfFreedom } = difference
  const family = { groups: groups.length, degreesOfFreedom }
  const design = { ...family, scatterVariance, fixedVariance: statedVariance, coupons }
  const described = describe(difference, simultaneousFactor(family))
  const one = {
    first: first.group,
    second: second.group,
    difference: described,
    pAdjusted: adjustedP(difference.value / difference.standardUncertainty, family),
    differs: described.interval[0] > 0 || described.interval[1] < 0,
    smallestDetectable: smallestDetectable(design, power),
    ...(wanted === undefined || method === 'stated'
      ? {}
      : { couponsNeeded: couponsNeeded(design, wanted, power) ?? null }),
  }
  return { ...one, inWords: differenceInWords(one, { of, power, wanted, coupons }) }
}

function notesOn(
  { terms, differences }: GroupComparison,
  { unlabelled, unread }: Responses,
  by: string,
): RefusalReply[] {
  const note = (code: string, advice: string, is: boolean): RefusalReply[] => (is ? [{ code, advice }] : [])
  return [
    ...note(
      'exposures-differ',
      'The groups were printed at different exposures: the difference may be the exposure. Compare coupons of one.',
      terms.exposureConfounded,
    ),
    ...note(
      'bottles-differ',
      `Each ${by} was printed from bottles of its own: the difference may be the bottle.`,
      terms.bottleConfounded && by !== 'bottle',
    ),
    ...note(
      'photos-stated',
      'The groups lie on too few photographs to tell what a photograph adds: its stated uncertainty is counted. Coupons of all groups on one card, or more photographs, narrow the intervals.',
      differences.some(({ statedVariance }) => statedVariance > 0),
    ),
    ...note('unlabelled', `${couponsAre(unlabelled)} left out: nobody has said of which ${by}.`, unlabelled > 0),
    ...note('unread', `${couponsAre(unread)} left out: not read.`, unread > 0),
  ]
}

/** Each way in which two of the photographs compared were taken too differently, by the pair that shows it first. */
function photoNotes(readings: readonly LabelledReading[], responses: Responses['responses']): RefusalReply[] {
  const compared = new Set(responses.map(({ photo }) => photo))
  const photos = [...new Map(readings.map((one) => [one.photo, one])).values()].filter(({ photo }) =>
    compared.has(photo),
  )
  const found = photos.flatMap((a, i) =>
    photos.slice(i + 1).flatMap((b) =>
      comparePhotos(a.reading, b.reading).map(({ detail, ...warning }) => ({
        ...warning,
        detail: `${a.photo} and ${b.photo}: ${detail}`,
      })),
    ),
  )
  return [...new Map(found.toReversed().map((warning) => [warning.code, warning])).values()].toReversed()
}

const couponsAre = (count: number): string => (count === 1 ? 'One coupon is' : `${count} coupons are`)
