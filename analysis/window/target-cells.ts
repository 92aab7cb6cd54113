import type { RegionMm } from '../image/region.js'
import type { BarTarget, RectMm } from '../layout/schema.js'

/** A piece of the target whose mean light is compared, in mm from the target's lower left corner. */
export interface Cell {
  readonly areaMm: RegionMm
  readonly group: 'fine' | 'medium' | 'white' | 'black' | 'border'
}

/** A target in its own millimetres: all slots share it. */
export interface TargetPlan {
  readonly cells: readonly Cell[]
  /** Every black rectangle: what scattered light from the surroundings lacks. */
  readonly black: readonly RegionMm[]
  readonly sizeMm: { readonly x: number; readonly y: number }
  /** Where bars are measured: whole periods along x, clear of their ends; from edge to edge of those across the build. */
  readonly barsMm: Readonly<Record<BarGroup, RegionMm>>
}

export type BarGroup = 'fine' | 'medium' | 'across'

/** Lens, layer lines and an error of place reach this far across an edge. */
const EDGE_MM = 0.3
/** Bars of a layered wall are blurred along the build, so that patches keep further off their upper and lower edges. */
const EDGE_ALONG_MM = 0.6
const COLUMN_MM = 0.24
const BORDER_MM = { from: 0.3, to: 0.78 } as const

/** Corner of a target: all its rectangles are to the right of it and above. */
export function targetCorner(target: BarTarget): readonly [number, number] {
  const areas = [target.fine.areaMm, target.medium.areaMm, target.across.areaMm, target.whiteMm, target.blackMm]
  return [Math.min(...areas.map(({ x0 }) => x0)), Math.min(...areas.map(({ y0 }) => y0))]
}

/** Splits a range into equal pieces of about the wanted width. */
function pieces(from: number, to: number, wanted: number): [number, number][] {
  const n = Math.max(1, Math.round((to - from) / wanted))
  return Array.from({ length: n }, (_, i) => [from + ((to - from) * i) / n, from + ((to - from) * (i + 1)) / n])
}

/** A patch in upright strips: the light that haze sends into it falls off from its edges, and tells how wide it scatters. */
function strips({ x0, y0, x1, y1 }: RegionMm, group: Cell['group']): Cell[] {
  return pieces(x0 + EDGE_MM, x1 - EDGE_MM, COLUMN_MM).map(([from, to]) => ({
    group,
    areaMm: { x0: from, x1: to, y0: y0 + EDGE_ALONG_MM, y1: y1 - EDGE_ALONG_MM },
  }))
}

/** Whole periods about the middle of a bar group, and where its bars have ends above and below, clear of these. */
function barsArea({
  pitchMm,
  periods,
  areaMm,
}: {
  readonly pitchMm: number
  readonly periods: number
  readonly areaMm: RegionMm
}): RegionMm {
  const x0 = areaMm.x0 + 0.25 * pitchMm
  return { x0, x1: x0 + (periods - 1) * pitchMm, y0: areaMm.y0 + 0.5, y1: areaMm.y1 - 0.5 }
}

/** Of the bars across the build, clear of their ends. */
const acrossArea = ({ x0, x1, y0, y1 }: RegionMm): RegionMm => ({ x0: x0 + 0.4, x1: x1 - 0.4, y0, y1 })

export const shifted = (area: RegionMm, dx: number, dy: number): RegionMm => ({
  x0: area.x0 + dx,
  x1: area.x1 + dx,
  y0: area.y0 + dy,
  y1: area.y1 + dy,
})

/** Whether two rectangles come closer than a gap. */
const meet = (a: RegionMm, b: RegionMm, gapMm: number): boolean =>
  a.x0 < b.x1 + gapMm && a.x1 > b.x0 - gapMm && a.y0 < b.y1 + gapMm && a.y1 > b.y0 - gapMm

const nm = (mm: number): number => Math.round(mm * 1e6) / 1e6

/** What is compared of a target, and what is black in it. */
export function planTarget(target: BarTarget): TargetPlan {
  const [x, y] = targetCorner(target)
  // To a nanometre: plans of all cards are then one and the same.
  const own = (area: RectMm): RegionMm => {
    const { x0, x1, y0, y1 } = shifted(area, -x, -y)
    return { x0: nm(x0), x1: nm(x1), y0: nm(y0), y1: nm(y1) }
  }
  const [fine, medium, across] = [target.fine, target.medium, target.across].map(({ areaMm }) => own(areaMm))
  const white = own(target.whiteMm)
  const black = own(target.blackMm)
  const ground = target.blackGroundMm ? own(target.blackGroundMm) : black
  const size = { x: Math.max(medium!.x1, black.x1), y: Math.max(fine!.y1, medium!.y1) }
  const { from, to } = BORDER_MM
  const upright = ({ pitchMm, periods, areaMm }: BarTarget['fine']) =>
    Array.from({ length: periods }, (_, i) => ({
      ...own(areaMm),
      x0: nm(areaMm.x0 - x + i * pitchMm),
      x1: nm(areaMm.x0 - x + (i + 0.5) * pitchMm),
    }))
  const borders = [
    ...pieces(0, size.y, 2).flatMap(([y0, y1]) => [
      { x0: -to, x1: -from, y0, y1 },
      { x0: size.x + from, x1: size.x + to, y0, y1 },
    ]),
    ...pieces(0, size.x, 2.4).flatMap(([x0, x1]) => [
      { x0, x1, y0: -to, y1: -from },
      { x0, x1, y0: size.y + from, y1: size.y + to },
    ]),
  ]
  const barsMm = {
    fine: barsArea({ ...target.fine, areaMm: fine! }),
    medium: barsArea({ ...target.medium, areaMm: medium! }),
    across: acrossArea(across!),
  }
  return {
    sizeMm: size,
    barsMm,
    black: [
      ...upright(target.fine),
      ...upright(target.medium),
      ...Array.from({ length: target.across.bars }, (_, i) => ({
        ...across!,
        y0: across!.y0 + i * target.across.pitchMm,
        y1: across!.y0 + (i + 0.5) * target.across.pitchMm,
      })),
      ground,
    ],
    cells: [
      { group: 'fine', areaMm: barsMm.fine },
      { group: 'medium', areaMm: barsMm.medium },
      ...strips(white, 'white'),
      ...strips(black, 'black'),
      // White paper alone.
      ...borders
        .filter((areaMm) => !meet(areaMm, ground, EDGE_MM))
        .map((areaMm): Cell => ({ areaMm, group: 'border' })),
    ],
  }
}

/** Rows of bars are cut by this much at a time. */
const CUT_MM = 0.3
/** Of a group's width and height, so much must be seen. */
const LEAST_SEEN = 0.5

/**
 * The plan for a window that leaves bars uncovered: each group cut to whole periods and to the rows that are seen.
 *
 * @returns the plan itself when all bars are seen; undefined when less than half of a group is
 */
export function cutToSeen(
  plan: TargetPlan,
  target: BarTarget,
  isSeen: (areaMm: RegionMm) => boolean,
): TargetPlan | undefined {
  const steps: Readonly<Record<BarGroup, StepsMm>> = {
    fine: { x: target.fine.pitchMm, y: CUT_MM },
    medium: { x: target.medium.pitchMm, y: CUT_MM },
    across: { x: CUT_MM, y: Infinity },
  }
  if (Object.values(plan.barsMm).every(isSeen)) return plan
  const [fine, medium, across] = (['fine', 'medium', 'across'] as const).map((group) =>
    largestSeen(plan.barsMm[group], steps[group], isSeen),
  )
  if (!fine || !medium || !across) return undefined
  return {
    ...plan,
    barsMm: { fine, medium, across },
    cells: plan.cells.map((cell) =>
      cell.group === 'fine' ? { ...cell, areaMm: fine } : cell.group === 'medium' ? { ...cell, areaMm: medium } : cell,
    ),
  }
}

interface StepsMm {
  readonly x: number
  readonly y: number
}

/** The largest part of an area that is seen when its sides are moved in by whole steps. */
function largestSeen(area: RegionMm, steps: StepsMm, isSeen: (areaMm: RegionMm) => boolean): RegionMm | undefined {
  const cuts = (from: number, to: number, step: number) => {
    const most = Math.floor(((1 - LEAST_SEEN) * (to - from)) / step)
    const moved = (count: number) => (count === 0 ? 0 : count * step)
    return Array.from({ length: most + 1 }, (_, low) =>
      Array.from({ length: most + 1 - low }, (_, high) => [nm(from + moved(low)), nm(to - moved(high))] as const),
    ).flat()
  }
  return cuts(area.x0, area.x1, steps.x)
    .flatMap(([x0, x1]) => cuts(area.y0, area.y1, steps.y).map(([y0, y1]) => ({ x0, x1, y0, y1 })))
    .toSorted((a, b) => (b.x1 - b.x0) * (b.y1 - b.y0) - (a.x1 - a.x0) * (a.y1 - a.y0))
    .find(isSeen)
}
