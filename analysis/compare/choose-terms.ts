import { Matrix, SingularValueDecomposition } from 'ml-matrix'
import { numberLevels } from '../statistics/mixed-model.js'
import type { Observation } from './observation.js'

/** A photograph, bottle or coupon whose own shift is estimated. */
export type RandomTerm = 'photo' | 'bottle' | 'coupon'

export interface Terms {
  readonly groups: readonly string[]
  /** Shape (n, p): an indicator a group, then a centred one for each exposure but the first. */
  readonly design: readonly (readonly number[])[]
  /** Random factors that these coupons can tell from everything else. */
  readonly random: readonly { readonly term: RandomTerm; readonly levels: readonly string[] }[]
  /** Exposure is taken out of the differences. */
  readonly exposureRemoved: boolean
  /** Groups were printed at different exposures that the data cannot tell from the groups. */
  readonly exposureConfounded: boolean
  /** Photographs differ between groups and are too few to estimate their own shift: their stated uncertainty counts. */
  readonly photoStated: boolean
  /** Groups and bottles cannot be told apart. */
  readonly bottleConfounded: boolean
}

/** Below so many degrees of freedom between photographs their shift is not estimated: 0 would come out too often. */
const FEWEST_PHOTO_FREEDOMS = 3

/**
 * Which effects a set of coupons can tell apart.
 *
 * A factor counts when some level holds two coupons, and when its levels add rank to the columns before it; one whose
 * levels part the coupons as an earlier factor's do is left out as the same.
 *
 * @param byExposure exposures are the groups themselves
 */
export function chooseTerms(observations: readonly Observation[], byExposure: boolean): Terms {
  const groups = [...new Set(observations.map(({ group }) => group))]
  const indicators = observations.map(({ group }) => groups.map((one) => (one === group ? 1 : 0)))
  const exposures = [...new Set(observations.map(({ exposureS }) => exposureS))]
  const several = !byExposure && exposures.length > 1
  const blocks = indicatorColumns(observations.map(({ exposureS }) => exposureS))
  const design = several ? indicators.map((row, i) => [...row, ...blocks[i]!]) : indicators
  const full = rank(design) === design[0]!.length && design.length > design[0]!.length
  const fixed = several && full ? design : indicators

  const random: { term: RandomTerm; levels: readonly string[] }[] = []
  const consider = (term: RandomTerm, levels: readonly string[] | undefined, fewest: number): boolean => {
    if (!levels || new Set(levels).size === levels.length) return false
    if (random.some((other) => samePartition(other.levels, levels))) return false
    const before = [fixed, ...random.map((other) => zeroOne(other.levels))]
    const freedoms = rank(join([...before, zeroOne(levels)])) - rank(join(before))
    if (freedoms < fewest) return false
    if (rank(join([...before, zeroOne(levels)])) >= levels.length) return false
    random.push({ term, levels })
    return true
  }
  const photos = observations.map(({ photo }) => photo)
  const bottles = observations.every(({ bottle }) => bottle !== undefined)
    ? observations.map(({ bottle }) => bottle!)
    : undefined
  const photoRepeats = new Set(photos).size < photos.length
  const photoTaken = consider('photo', photos, FEWEST_PHOTO_FREEDOMS)
  const bottleTaken = consider('bottle', bottles, 1)
  consider(
    'coupon',
    observations.map(({ coupon }) => coupon),
    1,
  )
  return {
    groups,
    design: fixed,
    random,
    exposureRemoved: several && full,
    exposureConfounded: several && !full,
    photoStated: !photoTaken && photoRepeats,
    bottleConfounded:
      bottles !== undefined &&
      !bottleTaken &&
      new Set(bottles).size > 1 &&
      !samePartition(
        observations.map(({ group }) => group),
        bottles,
      ) &&
      rank(join([indicators, zeroOne(bottles)])) === groups.length,
  }
}

/** Indicator columns of all levels but the first, each less its mean, so that a group's mean is at the average level. */
function indicatorColumns(levels: readonly number[]): number[][] {
  const names = [...new Set(levels)].slice(1)
  const shares = names.map((name) => levels.filter((level) => level === name).length / levels.length)
  return levels.map((level) => names.map((name, j) => (level === name ? 1 : 0) - shares[j]!))
}

const zeroOne = (levels: readonly string[]): number[][] => {
  const numbers = numberLevels(levels)
  const count = Math.max(...numbers) + 1
  return numbers.map((number) => Array.from({ length: count }, (_, j) => (j === number ? 1 : 0)))
}

const join = (parts: readonly (readonly (readonly number[])[])[]): number[][] =>
  parts[0]!.map((_, i) => parts.flatMap((part) => part[i]!))

const rank = (rows: readonly (readonly number[])[]): number =>
  new SingularValueDecomposition(new Matrix(rows.map((row) => [...row])), { autoTranspose: true }).rank

function samePartition(a: readonly string[], b: readonly string[]): boolean {
  const both = new Set(a.map((one, i) => JSON.stringify([one, b[i]]))).size
  return both === new Set(a).size && both === new Set(b).size
}
