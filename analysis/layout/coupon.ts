import type { CouponLayout, IsolatedFeature, PointMm, Prism, XGrating, ZGap } from './schema.js'

// Outline. A 3 mm plate on two legs: printed standing on its lower edge it needs no supports, and lying
// on the card its legs hold the window 5 mm above the paper, where bars of 0.44 mm pitch sense light scattered
// beyond 2.5 degrees (p / 2d, d = 5 mm), the angle that separates haze in ASTM D1003.
const WIDTH_MM = 42
const HEIGHT_MM = 13
const PLATE_Z0_MM = 5
const FACE_Z_MM = 8
// The left leg doubles as the caliper tab: small, so that shrinkage of 1 % is 40 um and growth stands out.
const CALIPER_MM = 4
const RIGHT_LEG_X_MM = 37
// Path tracing of washed grooves: 0.12 mm deep reads -7 to +12 um at 12 degrees off axis, 0.3 mm up to +41 um.
// Below 0.12 mm the wash (40 um under a rounded rim) would leave no dark floor.
const GROOVE_DEPTH_MM = 0.14
// Features keep above the first 1.5 mm, which base layers overexpose, and 1.4 mm below the upper edge: the top
// layers miss the light that later layers would have added (a few times the penetration depth).
const FIRST_Y_MM = 1.8
const GRATING_Y_MM = { y0: 8.2, y1: 11.6 }
// Up to 1.3 mm beside a leg its inner wall shows as a strip; features begin 2.4 mm inside.
const FEATURES_X0_MM = 6.4

/** Graded gaps, in three columns so that each keeps 0.9 mm of solid before the next. Print-through can pass half a millimetre. */
const GAP_COLUMNS_MM = [
  [0.4, 0.8, 2.4],
  [0.6, 1.2, 2.0],
  [0.5, 1.0, 1.6],
] as const
const GAP_WIDTH_MM = 2.2
const GAP_COLUMN_STEP_MM = 3
const GAP_SEPARATION_MM = 0.9

const ISOLATED_MM = [0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8] as const
const ISOLATED_X0_MM = 15.6
const LINES_Y_MM = { y0: 4.9, y1: 7.3 }
const SPACES_Y_MM = { y0: 1.8, y1: 4.2 }
/** Space on each side of a standing line; solid on each side of a space. */
const LINE_CLEARANCE_MM = 0.6
const SPACE_SEPARATION_MM = 0.7

// 2 mm clear of the bars below on every side and of the right leg: refraction moves the paper against the face by
// 1.7 mm at 14 degrees. Left border just outside the last groove.
const WINDOW = { x0Mm: 25.4, y0Mm: 1.6, x1Mm: 36.8, y1Mm: 11.8 }
// Off both axes of symmetry, so that a turned, a mirrored and a turned mirrored coupon each show it elsewhere.
const KEY = { x0Mm: 0.9, y0Mm: 8.6, x1Mm: 3.3, y1Mm: 11.6 }

const mm = (value: number): number => Math.round(value * 1e6) / 1e6
const box = (x0: number, y0: number, x1: number, y1: number): PointMm[] => [
  [mm(x0), mm(y0)],
  [mm(x1), mm(y0)],
  [mm(x1), mm(y1)],
  [mm(x0), mm(y1)],
]

/**
 * Pitch near the wanted one of which n lines meet every phase of the mask's pixels once: (k + 1/n) pixels.
 *
 * The mask rounds each edge to a pixel. Over n lines the rounding of left edges runs through n equally spaced phases,
 * whose mean is below 1/(2n) pixel wherever the coupon lies on the mask, and so does that of right edges. With n even the
 * two series lie half a phase apart: the mean groove is off by 1/(2n) pixel (1.7 um at 34 um), all coupons alike.
 *
 * @param wantedMm pitch to come near to, mm
 * @param lines n, how many lines the grating has
 * @param pixelMm edge of a mask pixel, mm
 */
export function vernierPitchMm(wantedMm: number, lines: number, pixelMm: number): number {
  return mm((Math.round(wantedMm / pixelMm - 1 / lines) + 1 / lines) * pixelMm)
}

function xGratings(pixelMm: number): XGrating[] {
  const make = (group: string, wantedMm: number, grooves: number, x0Mm: number): XGrating => {
    const pitchMm = vernierPitchMm(wantedMm, grooves, pixelMm)
    const { y0, y1 } = GRATING_Y_MM
    return { group, pitchMm, grooveMm: mm(pitchMm / 2), grooves, x0Mm: mm(x0Mm), y0Mm: y0, y1Mm: y1 }
  }
  const narrow = make('x-narrow', 0.8, 10, FEATURES_X0_MM)
  const wide = make('x-wide', 1.2, 8, narrow.x0Mm + narrow.pitchMm * narrow.grooves + 0.6)
  return [narrow, wide]
}

function zGaps(layerMm: number): ZGap[] {
  const layers = (value: number): number => mm(Math.round(value / layerMm) * layerMm)
  return GAP_COLUMNS_MM.flatMap((column, index) => {
    let y = FIRST_Y_MM
    const x0 = FEATURES_X0_MM + index * GAP_COLUMN_STEP_MM
    return column.map((gap): ZGap => {
      const y0Mm = layers(y)
      const y1Mm = mm(y0Mm + layers(gap))
      y = y1Mm + GAP_SEPARATION_MM
      return { id: `z-gap-${gap}`, gapMm: mm(y1Mm - y0Mm), x0Mm: mm(x0), x1Mm: mm(x0 + GAP_WIDTH_MM), y0Mm, y1Mm }
    })
  })
}

function isolatedFeatures(pixelMm: number): IsolatedFeature[] {
  const pixels = (value: number): number => mm(Math.round(value / pixelMm) * pixelMm)
  const row = (kind: 'line' | 'space', firstX: number, between: number, y: { y0: number; y1: number }) => {
    let x = pixels(firstX)
    return ISOLATED_MM.map((width): IsolatedFeature => {
      const x0Mm = x
      const x1Mm = mm(x + Math.max(pixels(width), mm(pixelMm)))
      x = mm(x1Mm + pixels(between))
      return { id: `${kind}-${width}`, kind, widthMm: mm(x1Mm - x0Mm), x0Mm, x1Mm, y0Mm: y.y0, y1Mm: y.y1 }
    })
  }
  return [
    ...row('line', ISOLATED_X0_MM + LINE_CLEARANCE_MM, LINE_CLEARANCE_MM, LINES_Y_MM),
    ...row('space', ISOLATED_X0_MM, SPACE_SEPARATION_MM, SPACES_Y_MM),
  ]
}

/**
 * The coupon for one printer and layer height, in mm as it lies on the card.
 *
 * @param options `pixelPitchUm` edge of a mask pixel, `layerHeightUm`; both above zero
 * @throws {RangeError} if either is not a positive number
 */
export function couponLayout(options: { pixelPitchUm: number; layerHeightUm: number }): CouponLayout {
  const { pixelPitchUm, layerHeightUm } = options
  if (!(pixelPitchUm > 0 && pixelPitchUm < Infinity))
    throw new RangeError(`couponLayout needs a pixel pitch above zero, got ${pixelPitchUm}`)
  if (!(layerHeightUm > 0 && layerHeightUm < Infinity))
    throw new RangeError(`couponLayout needs a layer height above zero, got ${layerHeightUm}`)
  const pixelMm = pixelPitchUm / 1000
  // Whole pixels: wherever they lie on the mask, rounding moves both sides of the tab alike.
  const tabMm = mm(Math.round(CALIPER_MM / pixelMm) * pixelMm)
  const gratings = xGratings(pixelMm)
  const gaps = zGaps(layerHeightUm / 1000)
  const isolated = isolatedFeatures(pixelMm)
  const z0 = mm(FACE_Z_MM - GROOVE_DEPTH_MM)
  const groove = (role: Prism['role'], id: string, polygon: PointMm[], group?: string): Prism => ({
    id,
    role,
    kind: 'void',
    ...(group === undefined ? {} : { group }),
    polygon,
    z0,
    z1: FACE_Z_MM,
    ink: true,
  })
  const solid = (role: Prism['role'], id: string, polygon: PointMm[], z0: number, ink = false): Prism => ({
    id,
    role,
    kind: 'solid',
    polygon,
    z0,
    z1: FACE_Z_MM,
    ink,
  })
  const lines = isolated.filter((feature) => feature.kind === 'line')
  return {
    name: `stepglass-coupon-${pixelPitchUm}um-${layerHeightUm}um`,
    build: '+y',
    sizeMm: { x: WIDTH_MM, y: HEIGHT_MM, z: FACE_Z_MM },
    plateZ0Mm: PLATE_Z0_MM,
    faceZMm: FACE_Z_MM,
    grooveDepthMm: GROOVE_DEPTH_MM,
    prisms: [
      solid('caliper-leg', 'leg-left', box(0, 0, tabMm, HEIGHT_MM), 0),
      solid('leg', 'leg-right', box(RIGHT_LEG_X_MM, 0, WIDTH_MM, HEIGHT_MM), 0),
      solid('plate', 'plate', box(0, 0, WIDTH_MM, HEIGHT_MM), PLATE_Z0_MM),
      solid('ink-pad', 'ink-pad', box(0.5, 1.2, WINDOW.x0Mm - 0.4, HEIGHT_MM - 0.9), PLATE_Z0_MM, true),
      {
        id: 'window',
        role: 'window',
        kind: 'window',
        polygon: box(WINDOW.x0Mm, WINDOW.y0Mm, WINDOW.x1Mm, WINDOW.y1Mm),
        z0: PLATE_Z0_MM,
        z1: FACE_Z_MM,
        ink: false,
      },
      ...gratings.flatMap((g) =>
        Array.from({ length: g.grooves }, (_, i) => {
          const x = g.x0Mm + i * g.pitchMm
          return groove('x-grating', `${g.group}_${i}`, box(x, g.y0Mm, x + g.grooveMm, g.y1Mm), g.group)
        }),
      ),
      ...gaps.map((g) => groove('z-gap', g.id, box(g.x0Mm, g.y0Mm, g.x1Mm, g.y1Mm))),
      ...isolated
        .filter((f) => f.kind === 'space')
        .map((f) => groove('x-space', f.id, box(f.x0Mm, f.y0Mm, f.x1Mm, f.y1Mm), 'x-space')),
      // The lines stand between the grooves of one comb: a groove before the first line and one after each.
      ...[undefined, ...lines].map((line, i) => {
        const x0 = line?.x1Mm ?? mm((lines[0]?.x0Mm ?? 0) - LINE_CLEARANCE_MM)
        const x1 = lines[i]?.x0Mm ?? mm((line?.x1Mm ?? 0) + LINE_CLEARANCE_MM)
        return groove('x-line', `line-comb_${i}`, box(x0, LINES_Y_MM.y0, x1, LINES_Y_MM.y1), 'line-comb')
      }),
      groove('key', 'key', box(KEY.x0Mm, KEY.y0Mm, KEY.x1Mm, KEY.y1Mm)),
    ],
    gratings,
    gaps,
    isolated,
    window: WINDOW,
    key: KEY,
    caliperMm: tabMm,
    labelPlane: { x0Mm: WIDTH_MM, heightMm: 0.4 },
  }
}
