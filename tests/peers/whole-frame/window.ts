import { mean } from 'simple-statistics'
import type { BarTarget, RectMm, Slot } from '../../../analysis/layout/schema.js'
import type { PeerRung } from '../peer-reading.js'
import { LINEAR } from './coupon.js'
import { countDefects } from './defects.js'
import { cv, type Mat, type Own } from './opencv.js'
import type { RectifiedCard } from './rectified-card.js'

/** Standard deviation, on the paper, of what a window 5 mm above it scatters widely; taken as known. */
const SCATTER_MM = 0.5
/** Room for the scattered light, and for the plate, which shows the paper a little beside its place. */
const MARGIN_MM = 1
/** How far from an edge its blur is over. */
const EDGE_MM = 0.3
const ROUNDS = 20
/** Light crosses the plate down to the paper and up again. */
const PASSES = 2

type Bars = 'fine' | 'medium' | 'across'
type Group = Bars | 'white' | 'black'

/**
 * Haze, clarity, colour and defects of one window, from levels and amplitudes of its target against the bare one.
 *
 *   level = light [(1 - H) bare + H scattered] + mirrored,   amplitude = light (1 - H) bare
 */
export function readWindow(
  card: RectifiedCard,
  { windowTarget, bareTarget }: Slot,
  own: Own,
): Pick<PeerRung, 'hazeIndex' | 'kept' | 'deltaB' | 'defects'> {
  const { pxPerMm } = card
  const bare = lightAround(card, bareTarget, own)
  blacken(bare, windowTarget, pxPerMm)
  const { seen, rightPx, downPx } = alignedWith(bare, lightAround(card, windowTarget, own), pxPerMm, own)
  const scattered = own(new cv.Mat())
  cv.GaussianBlur(bare, scattered, new cv.Size(0, 0), SCATTER_MM * pxPerMm)

  const areas = areasOf(bareTarget)
  const part = (picture: Mat, group: Group) => own(picture.roi(pixelsOf(areas[group], pxPerMm)))
  const level = (group: Group) => {
    const [plain, wide, here] = [bare, scattered, seen].map((picture) => cv.mean(part(picture, group))[0]!) as [
      number,
      number,
      number,
    ]
    return { mixed: (hazy: number) => (1 - hazy) * plain + hazy * wide, plain, wide, here }
  }
  const wave = (group: Bars) => {
    const periodPx = bareTarget[group].pitchMm * pxPerMm
    const [here = 0, plain = 0] = [seen, bare].map((picture) =>
      amplitude(profileOf(part(picture, group), group === 'across' ? 'y' : 'x', own), periodPx),
    )
    return here / plain
  }
  const [white, black, bars, kept] = [level('white'), level('black'), level('medium'), wave('medium')]
  let [hazy, mirrored] = [0, 0]
  for (let round = 0; round < ROUNDS; round++) {
    const [light, dark] = [white.mixed(hazy), black.mixed(hazy)]
    mirrored = (black.here * light - white.here * dark) / (light - dark)
    const contrast = kept / (bars.here - mirrored)
    hazy = (1 - contrast * bars.plain) / (1 + contrast * (bars.wide - bars.plain))
  }
  const keptOf = (group: Bars) => {
    const { mixed, here } = level(group)
    return (wave(group) * mixed(hazy)) / (here - mirrored)
  }
  const shift = { x: rightPx / pxPerMm, y: -downPx / pxPerMm }
  return {
    hazeIndex: hazy,
    kept: { fine: keptOf('fine'), medium: keptOf('medium'), across: keptOf('across') },
    deltaB: deltaB(card, { windowTarget, bareTarget }, shift, own),
    defects: countDefects({ bare, scattered, seen }, { hazy, mirrored }, pxPerMm, own),
  }
}

function boundsOf({ fine, medium, across, whiteMm, blackMm }: BarTarget): RectMm {
  const all = [fine.areaMm, medium.areaMm, across.areaMm, whiteMm, blackMm]
  return {
    x0: Math.min(...all.map(({ x0 }) => x0)),
    y0: Math.min(...all.map(({ y0 }) => y0)),
    x1: Math.max(...all.map(({ x1 }) => x1)),
    y1: Math.max(...all.map(({ y1 }) => y1)),
  }
}

/** Where levels and amplitudes are taken, mm from the upper left corner of a target's picture, y down. */
function areasOf(target: BarTarget): Record<Group, RectMm> {
  const { x0: left, y1: top } = boundsOf(target)
  const part = ({ x0, y0, x1, y1 }: RectMm, x: number, y: number): RectMm => ({
    x0: x0 + x - left + MARGIN_MM,
    x1: x1 - x - left + MARGIN_MM,
    y0: top - y1 + y + MARGIN_MM,
    y1: top - y0 - y + MARGIN_MM,
  })
  const across = part(target.across.areaMm, 0.4, 0)
  return {
    fine: part(target.fine.areaMm, 0, 0.5),
    medium: part(target.medium.areaMm, 0, 0.5),
    // One whole period, from the lower edge of the first bar.
    across: { ...across, y0: across.y1 - target.across.pitchMm },
    white: part(target.whiteMm, 0.5, 0.5),
    black: part(target.blackMm, 0.5, 0.5),
  }
}

/** Gives the bare target the black around its black patch that the one behind the window has, its edges as blurred. */
function blacken({ data32F, rows, cols }: Mat, target: BarTarget, pxPerMm: number): void {
  const { blackMm: black } = target
  const { x0, y1 } = boundsOf(target)
  const px = (mm: number) => Math.round((mm + MARGIN_MM - EDGE_MM) * pxPerMm)
  const [left, right] = [px(black.x0 - x0), px(black.x1 - x0)]
  const [top, bottom] = [px(y1 - black.y1), px(y1 - black.y0)]
  const inside = left + Math.round(2 * EDGE_MM * pxPerMm)
  for (let row = top; row < bottom; row++) {
    const start = row * cols
    data32F.fill(mean([...data32F.subarray(start + inside, start + right)]), start + right, start + cols)
  }
  for (let row = bottom; row < rows; row++)
    data32F.copyWithin(row * cols + left, (bottom - 1) * cols + left, bottom * cols)
}

/** Linear light of a target and a margin around it. */
function lightAround({ layout, picture, pxPerMm }: RectifiedCard, target: BarTarget, own: Own): Mat {
  const { x0, y0, x1, y1 } = boundsOf(target)
  const { x: width, y: height } = layout.card.sizeMm
  const place = new cv.Rect(
    Math.round((x0 - MARGIN_MM + width / 2) * pxPerMm),
    Math.round((height / 2 - y1 - MARGIN_MM) * pxPerMm),
    Math.round((x1 - x0 + 2 * MARGIN_MM) * pxPerMm),
    Math.round((y1 - y0 + 2 * MARGIN_MM) * pxPerMm),
  )
  const codes = own(own(picture.roi(place)).clone())
  const light = own(new cv.Mat(codes.rows, codes.cols, cv.CV_32FC1))
  light.data32F.set(Float32Array.from(codes.data, (code) => LINEAR[code]!))
  return light
}

/** The window's picture moved onto the bare one by matching, to parts of a pixel, and how far it lay off. */
function alignedWith(bare: Mat, seen: Mat, pxPerMm: number, own: Own) {
  const reach = Math.round(0.7 * pxPerMm)
  const inner = own(bare.roi(new cv.Rect(reach, reach, bare.cols - 2 * reach, bare.rows - 2 * reach)))
  const scores = own(new cv.Mat())
  cv.matchTemplate(seen, inner, scores, cv.TM_CCOEFF_NORMED)
  const { maxLoc } = cv.minMaxLoc(scores)
  const at = (x: number, y: number) => scores.data32F[y * scores.cols + x] ?? 0
  const peak = (before: number, here: number, after: number) => (before - after) / (2 * (before - 2 * here + after))
  const { x, y } = maxLoc
  const rightPx = x + peak(at(x - 1, y), at(x, y), at(x + 1, y)) - reach
  const downPx = y + peak(at(x, y - 1), at(x, y), at(x, y + 1)) - reach
  const moved = own(new cv.Mat())
  const matrix = own(cv.matFromArray(2, 3, cv.CV_64FC1, [1, 0, -rightPx, 0, 1, -downPx]))
  const size = new cv.Size(bare.cols, bare.rows)
  cv.warpAffine(seen, moved, matrix, size, cv.INTER_CUBIC, cv.BORDER_REPLICATE, new cv.Scalar(0))
  return { seen: moved, rightPx, downPx }
}

function pixelsOf({ x0, y0, x1, y1 }: RectMm, pxPerMm: number): object {
  const [left, top, right, bottom] = [x0, y0, x1, y1].map((mm) => Math.round(mm * pxPerMm)) as [
    number,
    number,
    number,
    number,
  ]
  return new cv.Rect(left, top, right - left, bottom - top)
}

/** Mean light of each column, or of each row. */
function profileOf(picture: Mat, along: 'x' | 'y', own: Own): Float32Array {
  const profile = own(new cv.Mat())
  cv.reduce(picture, profile, along === 'x' ? 0 : 1, cv.REDUCE_AVG, cv.CV_32F)
  return profile.data32F.slice()
}

/** Amplitude of the fundamental, by a Fourier sum over whole periods. */
function amplitude(profile: Float32Array, periodPx: number): number {
  const middle = mean([...profile])
  const sum = (wave: (angle: number) => number) =>
    profile.reduce((total, light, i) => total + (light - middle) * wave((2 * Math.PI * i) / periodPx), 0)
  return Math.hypot(sum(Math.cos), sum(Math.sin))
}

/** Change of b* that one passage through the resin makes of white; black is subtracted, red stands for no colour. */
function deltaB(
  card: RectifiedCard,
  { windowTarget, bareTarget }: Pick<Slot, 'windowTarget' | 'bareTarget'>,
  shift: { readonly x: number; readonly y: number },
  own: Own,
): number {
  const step = ({ whiteMm, blackMm }: BarTarget, { x, y }: typeof shift) => {
    const [white, black] = [whiteMm, blackMm].map((rect) => {
      const inside = { x0: rect.x0 + x + 0.4, x1: rect.x1 + x - 0.4, y0: rect.y0 + y + 0.4, y1: rect.y1 + y - 0.4 }
      const { data } = card.colours(inside)
      const sums = [0, 0, 0]
      for (let i = 0; i < data.length; i++) sums[i % 3]! += LINEAR[data[i]!]! / (data.length / 3)
      return sums
    }) as [number[], number[]]
    return white.map((value, channel) => value - black[channel]!)
  }
  const [seen, bare] = [step(windowTarget, shift), step(bareTarget, { x: 0, y: 0 })]
  const passed = seen.map((value, channel) => (value / bare[channel]!) ** (1 / PASSES))
  const colours = own(cv.matFromArray(1, 2, cv.CV_32FC3, [...passed.map((value) => value / passed[0]!), 1, 1, 1]))
  const lab = own(new cv.Mat())
  cv.cvtColor(colours, lab, cv.COLOR_LRGB2Lab)
  return lab.data32F[2]! - lab.data32F[5]!
}
