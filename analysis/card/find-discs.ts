import { halve, toPhotoPx, type GreyPicture } from '../image/shrink.js'
import { darkComponents, robustHomography, type Component } from '../image/opencv.js'
import type { CardLayout } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import { applyHomography } from './camera-pose.js'
import type { FoundCode } from './find-code.js'

/** One fiducial disc of the layout found in the photograph, roughly. */
export interface FoundDisc {
  readonly index: number
  readonly px: readonly [number, number]
  readonly radiusPx: number
}

type Spot = Omit<FoundDisc, 'index'>

export interface RoughCard {
  readonly discs: readonly FoundDisc[]
  /** Card mm to pixels, within a pixel or two over the card. */
  readonly homography: readonly number[]
}

/** Pairs further apart than this on the card are not the same disc; half the distance between neighbours is 12 mm. */
const FIRST_REACH_MM = 9
const SECOND_REACH_MM = 2.5
const FEWEST_DISCS = 8
/** A homography leaves so much more of a distorting lens over the whole card than over the code. */
const DISTORTED = 4
/** Discs this broad are told from text as surely as larger ones. */
const ENOUGH_PX = 12

/** A filled ellipse covers pi/4 of its box; text, bars and coupon features do not come near with this size and shape. */
function isDisc({ width, height, area }: Component, expectedPx: number): boolean {
  const fill = area / (width * height)
  const size = Math.sqrt(width * height)
  return (
    size > 0.45 * expectedPx &&
    size < 2.2 * expectedPx &&
    Math.max(width, height) < 2 * Math.min(width, height) &&
    fill > 0.66 &&
    fill < 0.9
  )
}

/**
 * Fiducials of a card whose code is known, as dark round components near where the code says they are.
 *
 * @returns discs in layout order with a homography, or a refusal: `card-cropped` when the frame's edge cuts the card,
 *   `too-few-discs` when they are covered or lost in shadow
 */
export function findDiscs(picture: GreyPicture, code: FoundCode, card: CardLayout): Outcome<RoughCard> {
  const size = card.code.rows.length * card.code.moduleMm
  const { x0Mm, y1Mm } = card.code
  const cornersMm = [
    [x0Mm, y1Mm],
    [x0Mm + size, y1Mm],
    [x0Mm + size, y1Mm - size],
    [x0Mm, y1Mm - size],
  ] as const
  const seed = robustHomography(cornersMm, code.corners, 1e6)
  if (!seed) return refuse('no-card', 'Photograph the card again, from above and in focus.', 'the code has no area')
  const edge = Math.hypot(code.corners[1][0] - code.corners[0][0], code.corners[1][1] - code.corners[0][1])
  const spots = darkDiscs(picture, (edge / size) * (card.fiducials[0]?.diameterMm ?? 4))

  const looseness = Math.max(4, edge / 60)
  let homography: readonly number[] = seed.matrix
  let discs = matchOutwards(spots, cornersMm, code.corners, homography, card, DISTORTED * looseness)
  for (const reach of [SECOND_REACH_MM, SECOND_REACH_MM]) {
    if (discs.length < 5) break
    const robust = homographyOf(discs, card, looseness)
    if (!robust) break
    homography = robust
    discs = matchDiscs(spots, homography, card.fiducials.keys(), card, reach)
  }
  const outside = card.fiducials.filter(({ xMm, yMm }) => {
    const [x, y] = applyHomography(homography, xMm, yMm)
    return x < 0 || y < 0 || x > picture.width * picture.factor || y > picture.height * picture.factor
  }).length
  if (outside > 2 || (outside > 0 && discs.length < FEWEST_DISCS))
    return refuse(
      'card-cropped',
      'Step back so that all black discs of the card are in the picture.',
      `${outside} of ${card.fiducials.length} discs lie outside the frame`,
    )
  if (discs.length < Math.min(FEWEST_DISCS, card.fiducials.length - 1))
    return refuse(
      'too-few-discs',
      'Uncover the black discs of the card and light it evenly, then photograph it again.',
      `${discs.length} of ${card.fiducials.length} discs found, ${FEWEST_DISCS} needed`,
    )
  return { ok: true, value: { discs, homography } }
}

/** Dark components about as large and as round as a disc, wherever they lie. @param diameterPx in the photograph */
function darkDiscs(picture: GreyPicture, diameterPx: number): Spot[] {
  const seen = diameterPx / picture.factor > 2 * ENOUGH_PX ? halve(picture) : picture
  const { factor } = seen
  const discPx = diameterPx / factor
  const neighbourhood = 2 * Math.round(1.4 * discPx) + 1
  return darkComponents(seen, neighbourhood, 14)
    .filter((component) => isDisc(component, discPx))
    .map(({ centre, width, height }) => ({
      px: [toPhotoPx(centre[0], factor), toPhotoPx(centre[1], factor)] as const,
      radiusPx: (Math.max(width, height) / 2) * factor,
    }))
}

const fiducialMm = (card: CardLayout, index: number): readonly [number, number] => [
  card.fiducials[index]?.xMm ?? 0,
  card.fiducials[index]?.yMm ?? 0,
]

const homographyOf = (discs: readonly FoundDisc[], card: CardLayout, looseness: number) =>
  robustHomography(
    discs.map(({ index }) => fiducialMm(card, index)),
    discs.map(({ px }) => px),
    looseness,
  )?.matrix

/**
 * Discs from the code's corner outwards, each predicted by the code and all those found before it.
 *
 * The code's corners are known to a pixel or two of some three hundred: alone they foretell the far side of the card to
 * no better than the distance from a disc to round things on a coupon.
 */
function matchOutwards(
  spots: readonly Spot[],
  cornersMm: readonly (readonly [number, number])[],
  cornersPx: readonly (readonly [number, number])[],
  seed: readonly number[],
  card: CardLayout,
  looseness: number,
): FoundDisc[] {
  const [[x = 0, y = 0] = []] = cornersMm
  const away = ({ xMm, yMm }: { xMm: number; yMm: number }) => Math.hypot(xMm - x, yMm - y)
  const order = [...card.fiducials.keys()].sort((a, b) => away(card.fiducials[a]!) - away(card.fiducials[b]!))
  const found: FoundDisc[] = []
  let homography = seed
  for (const index of order) {
    const discs = matchDiscs(spots, homography, [index], card, FIRST_REACH_MM)
    if (discs.length === 0) continue
    found.push(...discs)
    const known = robustHomography(
      [...cornersMm, ...found.map((disc) => fiducialMm(card, disc.index))],
      [...cornersPx, ...found.map(({ px }) => px)],
      looseness,
    )
    homography = known?.matrix ?? homography
  }
  return found
}

/** The nearest spot to each of some fiducials' expected places, within reach. */
function matchDiscs(
  spots: readonly Spot[],
  homography: readonly number[],
  indices: Iterable<number>,
  card: CardLayout,
  reachMm: number,
): FoundDisc[] {
  return [...indices].flatMap((index) => {
    const [xMm, yMm] = fiducialMm(card, index)
    const [x, y] = applyHomography(homography, xMm, yMm)
    const [ax, ay] = applyHomography(homography, xMm + reachMm, yMm)
    const reachPx = Math.hypot(ax - x, ay - y)
    let best: FoundDisc | undefined
    let nearest = reachPx
    for (const spot of spots) {
      const distance = Math.hypot(spot.px[0] - x, spot.px[1] - y)
      if (distance < nearest) {
        nearest = distance
        best = { index, ...spot }
      }
    }
    return best ? [best] : []
  })
}
