import { mean } from 'simple-statistics'
import type { CameraPose } from '../card/camera-pose.js'
import { cardPlane } from '../coupon/plane-map.js'
import { REFRACTIVE_INDEX } from '../coupon/resin.js'
import type { LightField } from '../image/light-field.js'
import type { RegionMm } from '../image/region.js'
import type { Tone } from '../image/linear-light.js'
import { unsharpened, type PixelBox } from '../image/unsharpen.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import type { PointPx } from '../result.js'
import { fitBareLight } from './bare-light.js'
import { findDefects, type WindowDefects } from './find-defects.js'
import { fitWindow, type FittedWindow } from './fit-window.js'
import { poolWidths, widthBeforehand } from './lobe-width.js'
import { measureTarget } from './measure-target.js'
import { lobesOf } from './scatter-lobe.js'
import { cutToSeen, planTarget, shifted, targetCorner, type TargetPlan } from './target-cells.js'
import type { WindowProblem } from './window-model.js'
import { readYellowness, type Yellowness } from './yellowness.js'

/** What the windows of one photograph are read from. */
export interface WindowsInput {
  readonly light: LightField
  readonly tone: Tone
  readonly pose: CameraPose
  readonly coupon: CouponLayout
  readonly inkGainUm: number
  /** Whether the camera did more than a tone curve: sharpened, smoothed. Default no. */
  readonly finished?: boolean
  /** Whether it smoothed, and so dulled or stepped faint colours. Default no. */
  readonly smoothed?: boolean
}

/** A slot with a coupon in it, and the outline of its window in the photograph. */
export interface WindowPlace {
  readonly slot: Slot
  readonly outlinePx: readonly PointPx[]
}

export interface WindowReading {
  readonly fitted: FittedWindow
  readonly yellowness: Yellowness
  readonly found: WindowDefects
}

const LARGEST_VEIL = 0.2
const LEAST_TRANSMISSION = 0.2
/** Mirrored light that changes this much across the target has an edge in it, which no slope describes. */
const LARGEST_SLOPE = 0.04
/** How much paper around a bare target is read. */
const AROUND_MM = 0.8
/** A mask of sharpening may be 4 px wide; beyond twice that it weighs little. */
const MASK_REACH_PX = 8
/** Kept clear of the window's edge, share of its half size: its rounded rim and the walls seen beside it. */
const RIM_SHARE = 0.05

/**
 * Reads the windows of one photograph: each target seen through a window against its bare copy on the same card.
 *
 * All at once, because the width over which the resin scatters is nearly common to them and only hazy ones tell it.
 *
 * @returns a reading for each place, or a refusal: `window-off-target`, `window-dark`, `glare-in-window`
 */
export function readWindows(given: WindowsInput, places: readonly WindowPlace[]): Outcome<WindowReading>[] {
  const first = places[0]
  if (!first) return []
  const plan = planTarget(first.slot.windowTarget)
  const input = { ...given, light: unsharpened(given.light, boxesAround(given, places, plan)) }
  const lobes = lobesOf(plan, first.slot.windowTarget)
  const problems = places.map((place) => describeProblem(input, place, { plan, lobes }))
  const beforehand = widthBeforehand(distanceMm(input.coupon))
  const alone = problems.flatMap((problem) => {
    const fit = problem.ok ? fitWindow(problem.value, beforehand) : problem
    return fit.ok ? [fit.value.logWidth] : []
  })
  const together = poolWidths(alone, beforehand)
  return problems.map((problem, i): Outcome<WindowReading> => {
    if (!problem.ok) return problem
    const fit = fitWindow(problem.value, together)
    if (!fit.ok) return fit
    const refusal = judgeWindow(fit.value)
    if (refusal) return refusal
    const { slot, outlinePx } = places[i]!
    const through = throughWindow(input)
    return {
      ok: true,
      value: {
        fitted: fit.value,
        yellowness: readYellowness(input, slot, through, problem.value.plan),
        found: findDefects(
          input.light,
          problem.value,
          fit.value.model,
          through,
          insideRim(outlinePx),
          input.finished ?? false,
        ),
      },
    }
  })
}

/** Pixels of every window and every bare target, with room for what a mask of sharpening reaches. */
function boxesAround({ pose }: WindowsInput, places: readonly WindowPlace[], { sizeMm }: TargetPlan): PixelBox[] {
  const onPaper = cardPlane(pose, 0)
  return places.flatMap(({ slot: { bareTarget }, outlinePx }) => {
    const [x, y] = targetCorner(bareTarget)
    const [x0, x1, y0, y1] = [x - AROUND_MM, x + sizeMm.x + AROUND_MM, y - AROUND_MM, y + sizeMm.y + AROUND_MM]
    const bare = [onPaper(x0, y0), onPaper(x1, y0), onPaper(x0, y1), onPaper(x1, y1)]
    return [bare, outlinePx].map((points) => ({
      left: Math.floor(Math.min(...points.map(([x]) => x))) - MASK_REACH_PX,
      right: Math.ceil(Math.max(...points.map(([x]) => x))) + MASK_REACH_PX,
      top: Math.floor(Math.min(...points.map(([, y]) => y))) - MASK_REACH_PX,
      bottom: Math.ceil(Math.max(...points.map(([, y]) => y))) + MASK_REACH_PX,
    }))
  })
}

/** Half of the scatter happens at each face: from the middle between them to the paper, in mm of air. */
export const distanceMm = ({ plateZ0Mm, faceZMm }: CouponLayout): number =>
  plateZ0Mm + (faceZMm - plateZ0Mm) / (2 * REFRACTIVE_INDEX)

/** Seen through a plate, the paper seems raised by d (1 - 1/n). */
const throughWindow = ({ pose, coupon }: WindowsInput) =>
  cardPlane(pose, (coupon.faceZMm - coupon.plateZ0Mm) * (1 - 1 / REFRACTIVE_INDEX))

function describeProblem(
  input: WindowsInput,
  { slot, outlinePx }: WindowPlace,
  shared: Pick<WindowProblem, 'plan' | 'lobes'>,
): Outcome<WindowProblem> {
  const { light, pose, coupon } = input
  const { windowTarget: target, bareTarget } = slot
  const through = throughWindow(input)
  const corner = targetCorner(target)
  const isClear = insideRim(outlinePx)
  const isSeen = (areaMm: RegionMm) => {
    const { x0, x1, y0, y1 } = shifted(areaMm, ...corner)
    return [through(x0, y0), through(x1, y0), through(x0, y1), through(x1, y1)].every(isClear)
  }
  const plan = cutToSeen(shared.plan, target, isSeen)
  const visible = plan?.cells.map(({ areaMm }) => isSeen(areaMm)) ?? []
  if (!plan || plan.cells.some(({ group }, i) => group !== 'border' && !visible[i]))
    return refuse(
      'window-off-target',
      'Lay the coupon straight into the corners of its slot and stand straight above it: its window must cover the bars and patches.',
    )
  const inkGainMm = input.inkGainUm / 1000
  const bare = fitBareLight(measureTarget(light, cardPlane(pose, 0), bareTarget, plan), plan, target, inkGainMm)
  if (!bare.ok) return bare
  const seen = measureTarget(light, through, target, plan)
  const dark = seen.fine.value + seen.medium.value + seen.across.value
  if (!(dark > 0))
    return refuse('window-dark', 'Clean the window and light it evenly.', 'no bars are seen through the window')
  return {
    ok: true,
    value: {
      plan,
      lobes: plan === shared.plan ? shared.lobes : lobesOf(plan, target),
      seen,
      bare: bare.value,
      target,
      inkGainMm,
      visible,
      distanceMm: distanceMm(coupon),
    },
  }
}

/** Whether pixels lie inside a four-cornered outline drawn in a little towards its middle. */
function insideRim(outlinePx: readonly PointPx[]): (px: readonly [number, number]) => boolean {
  const [middleX, middleY] = [mean(outlinePx.map(([x]) => x)), mean(outlinePx.map(([, y]) => y))]
  const sides = outlinePx.map(([x, y], i) => {
    const next = outlinePx[(i + 1) % outlinePx.length]!
    return { x, y, toX: next[0] - x, toY: next[1] - y }
  })
  return liesWithin.bind(undefined, sides, [middleX, middleY])
}

interface Side {
  readonly x: number
  readonly y: number
  readonly toX: number
  readonly toY: number
}

function liesWithin(
  sides: readonly Side[],
  [middleX, middleY]: readonly [number, number],
  [column, row]: readonly [number, number],
): boolean {
  const x = middleX + (column - middleX) / (1 - RIM_SHARE)
  const y = middleY + (row - middleY) / (1 - RIM_SHARE)
  let left = 0
  let right = 0
  for (const side of sides) {
    const turn = side.toX * (y - side.y) - side.toY * (x - side.x)
    if (turn > 0) left++
    else if (turn < 0) right++
  }
  return left === 0 || right === 0
}

function judgeWindow({ transmission, veil, veilSlope }: FittedWindow): ReturnType<typeof refuse> | undefined {
  if (!(transmission.value > LEAST_TRANSMISSION))
    return refuse(
      'window-dark',
      'Clean the window and light it evenly.',
      `transmission ${transmission.value.toFixed(2)}, at least ${LEAST_TRANSMISSION}`,
    )
  const change = Math.abs(veilSlope.value)
  const glare = [
    ...(veil.value > LARGEST_VEIL
      ? [`mirrored light is ${veil.value.toFixed(2)} of the paper's, at most ${LARGEST_VEIL}`]
      : []),
    ...(change > LARGEST_SLOPE
      ? [`mirrored light changes by ${change.toFixed(2)} of the paper's across the target, at most ${LARGEST_SLOPE}`]
      : []),
  ]
  if (glare.length > 0)
    return refuse(
      'glare-in-window',
      'A lamp, a bright wall or the edge of the phone is mirrored in the window: move the light to the side or stand elsewhere.',
      glare.join('; '),
    )
  return undefined
}
