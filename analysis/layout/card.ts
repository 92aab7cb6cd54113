import { create as createQrCode } from 'qrcode'
import { encodeCardCode } from './card-code.js'
import { FACTORS, rungText, type Factor } from './factors.js'
import type { BarTarget, CardLayout, CardText, LadderDesign, RectMm, Slot, TonePatch } from './schema.js'

/** 600 dpi, which 300, 600 and 1200 dpi printers share: every bar edge falls on a printer's dot and none is rounded. */
const DOT_MM = 25.4 / 600
const dots = (count: number): number => count * DOT_MM
const snap = (mm: number): number => dots(Math.round(mm / DOT_MM))

/** 136 mm; like the height an even number of dots, so that the centre, our origin, lies on a dot too. */
const WIDTH_MM = dots(3212)
const HEADER_MM = 27
const ROW_MM = 24
const FOOT_MM = 3
const FIDUCIAL_MM = 4
const COUPON_HEIGHT_MM = 13
const COLUMN_X_MM = [-59.5, 5] as const
/** Place of the target below the window, from the coupon's corner: 2 mm or more from the right leg. */
const TARGET_MM = { x: 27.62, y: 3.62 }
/** The bare copy lies to the right, 3.5 mm outside the coupon, at the same height on the card. */
const BARE_SHIFT_MM = 17.9
/** How far black reaches beyond the patch: to the window's right edge, and almost to the coupon's lower one. */
const GROUND_MM = { right: dots(53), below: dots(71) }
const MODULE_MM = dots(12)

const rect = (x0: number, y0: number, width: number, height: number): RectMm => ({
  x0,
  y0,
  x1: x0 + width,
  y1: y0 + height,
})

/** One bar target with its lower left corner at (x, y). Above: fine and medium bars along the build; below: coarse bars across, white, black. */
function barTarget(x: number, y: number): BarTarget {
  const upper = y + dots(80)
  const tall = dots(66)
  return {
    fine: { pitchMm: dots(10), periods: 6, areaMm: rect(x, upper, dots(60), tall) },
    medium: { pitchMm: dots(24), periods: 4, areaMm: rect(x + dots(68), upper, dots(96), tall) },
    across: { pitchMm: dots(48), bars: 2, areaMm: rect(x, y, dots(60), dots(72)) },
    whiteMm: rect(x + dots(64), y, dots(48), dots(72)),
    blackMm: rect(x + dots(116), y, dots(48), dots(72)),
  }
}

/**
 * The target under a window, its black patch part of a larger black ground.
 *
 * A hazy window lights a small patch with what it scatters from the white around, which mirrored light looks like. With white on
 * all sides the fit of a window knows a haze index of 0.13 to 0.024, with the ground to 0.016 (by its covariance, lobe unknown).
 * Its other two sides face the bars and the white that belong to the target.
 */
function onGround(target: BarTarget): BarTarget {
  const { x0, y0, x1, y1 } = target.blackMm
  return { ...target, blackGroundMm: { x0, y0: y0 - GROUND_MM.below, x1: x1 + GROUND_MM.right, y1 } }
}

function targetBlack(target: BarTarget): RectMm[] {
  const upright = ({ pitchMm, periods, areaMm }: BarTarget['fine']): RectMm[] =>
    Array.from({ length: periods }, (_, i) =>
      rect(areaMm.x0 + i * pitchMm, areaMm.y0, pitchMm / 2, areaMm.y1 - areaMm.y0),
    )
  const { across } = target
  return [
    ...upright(target.fine),
    ...upright(target.medium),
    ...Array.from({ length: across.bars }, (_, i) =>
      rect(
        across.areaMm.x0,
        across.areaMm.y0 + i * across.pitchMm,
        across.areaMm.x1 - across.areaMm.x0,
        across.pitchMm / 2,
      ),
    ),
    target.blackGroundMm ?? target.blackMm,
  ]
}

/**
 * Tone patches: solid white and black, and line gratings.
 *
 * A camera blurs the finest gratings (85 to 170 um) to grey before its tone curve acts, so their mean tells the curve;
 * bars it resolves (508 um) keep black and white, whose mean no curve moves. Ink spreads by about the same width at every
 * edge: its share goes as 1/pitch and is the same at every coverage, which the curve's is not.
 */
function tonePatches(x: number, y: number): TonePatch[] {
  const size = dots(144)
  const gratings = [
    [1, 4],
    [2, 4],
    [3, 4],
    [1, 2],
    [1, 3],
    [6, 12],
  ] as const
  const kinds = [
    { coverage: 0 },
    ...gratings.map(([line, pitch]) => ({ coverage: line / pitch, pitchMm: dots(pitch) })),
    { coverage: 1 },
  ]
  return kinds.map((kind, i) => ({ ...kind, areaMm: rect(x + i * dots(164), y, size, size) }))
}

function patchBlack({ coverage, pitchMm, areaMm }: TonePatch): RectMm[] {
  if (pitchMm === undefined) return coverage === 1 ? [areaMm] : []
  const lines = Math.round((areaMm.x1 - areaMm.x0) / pitchMm)
  return Array.from({ length: lines }, (_, i) =>
    rect(areaMm.x0 + i * pitchMm, areaMm.y0, coverage * pitchMm, areaMm.y1 - areaMm.y0),
  )
}

/** Ticks at the four corners of a slot, 0.8 mm outside the coupon, and a bar beside the corner where the key belongs. */
function slotMarks([x, y]: readonly [number, number], widthMm: number): RectMm[] {
  const thin = dots(4)
  const long = dots(30)
  const clear = dots(20)
  const left = x - clear - thin
  const right = snap(x + widthMm + clear)
  const below = y - clear - thin
  const above = snap(y + COUPON_HEIGHT_MM + clear)
  return [
    ...[below, above].flatMap((yy) => [rect(left, yy, long, thin), rect(right + thin - long, yy, long, thin)]),
    ...[left, right].flatMap((xx) => [rect(xx, below, thin, long), rect(xx, above + thin - long, thin, long)]),
    rect(x + dots(20), above, dots(60), dots(12)),
  ]
}

function fiducials(heightMm: number, rows: number): CardLayout['fiducials'] {
  const top = heightMm / 2
  const ys = [top - 4, ...Array.from({ length: rows }, (_, r) => top - HEADER_MM - r * ROW_MM), 4 - top]
  return ys.flatMap((yMm) => [-64, 0, 64].map((xMm) => ({ xMm: snap(xMm), yMm: snap(yMm), diameterMm: FIDUCIAL_MM })))
}

/** More characters of a level could run into the note beside them. */
const LONGEST_LARGE = 6

function rungsOf({ exposuresS }: LadderDesign, factor: Factor): string {
  const { name, unit } = FACTORS[factor]
  return `rungs: ${name}${unit === '' ? '' : `, ${unit}`}; ${exposuresS[0]} s a layer`
}

function cardTexts(design: LadderDesign, heightMm: number, slots: readonly Slot[]): CardText[] {
  const top = heightMm / 2
  const line = (text: string, xMm: number, yMm: number, sizeMm = 1.9, bold = false): CardText => ({
    text,
    xMm,
    yMm,
    sizeMm,
    bold,
  })
  const layer = (design.layerHeightUm / 1000).toFixed(3)
  return [
    line(`Stepglass ladder ${design.ladderId}`, 4.5, top - 5.4, 3, true),
    ...(design.factor === undefined ? [] : [line(rungsOf(design, design.factor), 4.5, top - 7.5, 1.7)]),
    line(`layer ${layer} mm, mask pixel ${design.pixelPitchUm} um`, 4.5, top - 20, 2.1),
    line('resin / bottle ______________________  date __________', 4.5, top - 24, 2.1),
    ...[
      'Lay each cured, inked coupon on its legs,',
      'inked face up, key to the thick bar.',
      'Soft light from the side, no flash.',
      'Stand back, use the longer lens, hold level,',
      'all black discs in view, nothing shading them.',
      'Uncured resin harms skin and eyes: gloves,',
      'goggles, fresh air; follow its data sheet.',
    ].map((text, i) => line(text, -38.5, top - 5.8 - i * 2.5, 1.5)),
    ...slots.flatMap(({ slot, rung, originMm: [x, y] }) => [
      line(`${slot}`, x + 0.4, y - 5, 3.4, true),
      line(rung, x + 4.5, y - 5, design.levels && rung.length > LONGEST_LARGE ? 2.3 : 3.4),
      design.levels
        ? line('note _______________', x + 24.5, y - 5, 2)
        : line('note ____________________', x + 18, y - 5, 2),
    ]),
  ]
}

/**
 * The card of one ladder: two slots a row, in mm, origin at its centre, x right and y up.
 *
 * About 4:3 with six slots, so that it fills a phone's frame: 36 um a pixel at 12 megapixels with a small border.
 *
 * @param design the ladder
 * @param couponWidthMm width of the coupon the slots are for
 */
export function cardLayout(design: LadderDesign, couponWidthMm: number): CardLayout {
  const rows = Math.ceil(design.exposuresS.length / COLUMN_X_MM.length)
  const heightMm = 2 * snap((HEADER_MM + rows * ROW_MM + FOOT_MM) / 2)
  const top = heightMm / 2
  const slots = design.exposuresS.map((exposureS, i): Slot => {
    const row = Math.floor(i / COLUMN_X_MM.length)
    const x = snap(COLUMN_X_MM[i % COLUMN_X_MM.length] ?? 0)
    const y = snap(top - HEADER_MM - (row + 0.5) * ROW_MM - COUPON_HEIGHT_MM / 2 + 1)
    const target = [snap(x + TARGET_MM.x), snap(y + TARGET_MM.y)] as const
    return {
      slot: i + 1,
      exposureS,
      rung: rungText(design, i + 1),
      originMm: [x, y],
      windowTarget: design.cardEdition === 1 ? barTarget(...target) : onGround(barTarget(...target)),
      bareTarget: barTarget(target[0] + snap(BARE_SHIFT_MM), target[1]),
    }
  })
  const payload = encodeCardCode(design)
  const { modules } = createQrCode(payload, { errorCorrectionLevel: 'M' })
  const tone = tonePatches(snap(4.5), snap(top - 15.5))
  return {
    sizeMm: { x: WIDTH_MM, y: heightMm },
    dotMm: DOT_MM,
    fiducials: fiducials(heightMm, rows),
    code: {
      payload,
      x0Mm: snap(-58.5),
      y1Mm: snap(top - 4.5),
      moduleMm: MODULE_MM,
      rows: Array.from({ length: modules.size }, (_, row) =>
        Array.from({ length: modules.size }, (_, column) => (modules.get(row, column) ? '1' : '0')).join(''),
      ),
    },
    tone,
    slots,
    black: [
      ...slots.flatMap(({ windowTarget, bareTarget }) => [...targetBlack(windowTarget), ...targetBlack(bareTarget)]),
      ...tone.flatMap(patchBlack),
      ...slots.flatMap(({ originMm }) => slotMarks(originMm, couponWidthMm)),
    ],
    texts: cardTexts(design, heightMm, slots),
  }
}
