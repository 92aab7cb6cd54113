import { refuse, type Outcome } from '../outcome.js'

/** Which isolated features stood on a rung. */
export interface SurvivalRung {
  readonly exposureS: number
  /** Narrowest line that stands, um; null: none does; absent: not read. */
  readonly smallestLineUm?: number | null | undefined
  /** Narrowest space that stays open, um; null: none does; absent: not read. */
  readonly smallestSpaceUm?: number | null | undefined
  /** Every isolated line and space that was read. */
  readonly isolated?: readonly IsolatedSurvival[] | undefined
}

/** Whether one isolated line stood, or one space stayed open; as drawn, um. */
export interface IsolatedSurvival {
  readonly kind: 'line' | 'space'
  readonly nominalUm: number
  readonly survives: boolean
}

export interface WantedFeatures {
  /** Narrowest line, um, that must stand. Absent: no demand. */
  readonly wantedLineUm?: number | undefined
  /** Narrowest space, um, that must stay open. Absent: no demand. */
  readonly wantedSpaceUm?: number | undefined
}

export interface SurvivalRange {
  /** Lowest exposure from which the wanted line stands on every rung; null without demand. */
  readonly lineFromS: number | null
  /** Highest exposure up to which the wanted space is open on every rung; null without demand. */
  readonly spaceUpToS: number | null
}

/**
 * Exposures between which the wanted line and space were both seen to survive.
 *
 * Lines need exposure and spaces lose by it, so each demand bounds one side. The bounds are rungs: what happens between
 * the last rung that failed and the first that held is not known, and is not granted. Rungs not read are passed over.
 *
 * @returns the range, or a refusal: `wanted-line-lost`, `wanted-space-lost` when even the rung that favours it failed;
 *   `wanted-features-exclude-each-other` when the line needs more exposure than the space bears; `survival-not-read`
 */
export function findSurvivalRange(
  rungs: readonly SurvivalRung[],
  { wantedLineUm, wantedSpaceUm }: WantedFeatures,
): Outcome<SurvivalRange> {
  const ascending = [...rungs].sort((a, b) => a.exposureS - b.exposureS)
  const line = lastSurvivor([...ascending].reverse(), (rung) => rung.smallestLineUm, wantedLineUm)
  const space = lastSurvivor(ascending, (rung) => rung.smallestSpaceUm, wantedSpaceUm)
  if (line === 'not-read' || space === 'not-read') {
    return refuse(
      'survival-not-read',
      'Photograph the narrow lines and spaces sharply.',
      'no rung shows the wanted sort',
    )
  }
  if (line === 'lost') {
    return refuse(
      'wanted-line-lost',
      'Draw thicker lines, or print higher exposures.',
      `a line of ${wantedLineUm} um does not stand at the highest exposure`,
    )
  }
  if (space === 'lost') {
    return refuse(
      'wanted-space-lost',
      'Draw wider spaces, or print lower exposures.',
      `a space of ${wantedSpaceUm} um is closed at the lowest exposure`,
    )
  }
  if (line !== null && space !== null && line > space) {
    return refuse(
      'wanted-features-exclude-each-other',
      'Draw thicker lines or wider spaces.',
      `a line of ${wantedLineUm} um stands from ${line} s, a space of ${wantedSpaceUm} um is open up to ${space} s`,
    )
  }
  return { ok: true, value: { lineFromS: line, spaceUpToS: space } }
}

/** Narrowest features at an exposure, um; null: none survives; absent: not read on both sides of it. */
export interface Narrowest {
  readonly lineUm?: number | null
  readonly spaceUm?: number | null
}

/** The wider of what the two rungs about an exposure show: what surely survives between them. */
export function narrowestAt(rungs: readonly SurvivalRung[], exposureS: number): Narrowest {
  const between = (smallestUm: (rung: SurvivalRung) => number | null | undefined) => {
    const read = rungs.filter((rung) => smallestUm(rung) !== undefined).sort((a, b) => a.exposureS - b.exposureS)
    const below = read.findLast((rung) => rung.exposureS <= exposureS)
    const above = read.find((rung) => rung.exposureS >= exposureS)
    if (!below || !above) return undefined
    const [a, b] = [smallestUm(below), smallestUm(above)]
    return typeof a === 'number' && typeof b === 'number' ? Math.max(a, b) : null
  }
  const lineUm = between((rung) => rung.smallestLineUm)
  const spaceUm = between((rung) => rung.smallestSpaceUm)
  return { ...(lineUm === undefined ? {} : { lineUm }), ...(spaceUm === undefined ? {} : { spaceUm }) }
}

/** Exposure of the last rung before the first failure, walking from the rung that favours the feature. */
function lastSurvivor(
  rungs: readonly SurvivalRung[],
  smallestUm: (rung: SurvivalRung) => number | null | undefined,
  wantedUm: number | undefined,
): number | null | 'lost' | 'not-read' {
  if (wantedUm === undefined) return null
  const read = rungs.filter((rung) => smallestUm(rung) !== undefined)
  if (read.length === 0) return 'not-read'
  const survives = (rung: SurvivalRung) => {
    const smallest = smallestUm(rung)
    return typeof smallest === 'number' && smallest <= wantedUm
  }
  const failure = read.findIndex((rung) => !survives(rung))
  if (failure === 0) return 'lost'
  return read.at(failure === -1 ? -1 : failure - 1)!.exposureS
}
