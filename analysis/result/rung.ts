import { Type, type Static } from 'typebox'
import { MeasuredValue, PointPx, RefusalReply } from './parts.js'

export const GratingReading = Type.Object({
  group: Type.String(),
  pitchMm: Type.Number(),
  pitchRatio: Type.Number({
    description: "pitch as the card's print measures it over nominal: print scale, shrinkage, distance of the camera",
  }),
  lines: Type.Integer({ description: 'grooves measured' }),
  grooveUm: MeasuredValue,
  growthUm: MeasuredValue,
  blurPx: Type.Number({ description: 'standard deviation of the edge blur' }),
  contrast: Type.Number({ description: '(bright - dark) / (bright + dark) in linear light' }),
  outlinePx: Type.Array(PointPx),
  profile: Type.Optional(
    Type.Object({
      positionMm: Type.Array(Type.Number()),
      light: Type.Array(Type.Number(), { description: 'linear, paper white = 1' }),
      fitted: Type.Array(Type.Number()),
    }),
  ),
})
export type GratingReading = Static<typeof GratingReading>

export const GapReading = Type.Object({
  id: Type.String(),
  nominalUm: Type.Number(),
  state: Type.Union([Type.Literal('open'), Type.Literal('closed'), Type.Literal('unread')]),
  gapUm: Type.Optional(MeasuredValue),
  outlinePx: Type.Array(PointPx),
})
export type GapReading = Static<typeof GapReading>

export const IsolatedReading = Type.Object({
  id: Type.String(),
  kind: Type.Union([Type.Literal('line'), Type.Literal('space')]),
  nominalUm: Type.Number(),
  survives: Type.Boolean(),
  outlinePx: Type.Array(PointPx),
})
export type IsolatedReading = Static<typeof IsolatedReading>

export const UncertaintyTerm = Type.Object({
  source: Type.String(),
  standardUncertaintyUm: Type.Number({ minimum: 0 }),
  shared: Type.Boolean({
    description: 'true: shifts all coupons of the photo alike; false: differs from coupon to coupon',
  }),
  averages: Type.Optional(
    Type.Boolean({ description: 'true: another one on every photograph, so that repeats average it away' }),
  ),
})
export type UncertaintyTerm = Static<typeof UncertaintyTerm>

export const GrowthValue = Type.Intersect(
  [MeasuredValue, Type.Object({ withinPhotoUncertainty: Type.Number({ minimum: 0 }) })],
  {
    description:
      'lateral growth per side, um, positive: solid too big. standardUncertainty is that of the absolute value; withinPhotoUncertainty leaves out what shifts all coupons of the photo alike',
  },
)

export const WindowDefect = Type.Object({
  kind: Type.Enum(['bubble', 'dust', 'layer-band', 'scratch'], {
    description:
      'by shape: a bubble has light of its own beside its dark, dust is dark throughout, a layer band lies along the layers',
  }),
  areaMm2: Type.Number(),
  depth: Type.Number({
    description: "greatest departure from what the target should show, share of the paper's light; negative: darker",
  }),
  outlinePx: Type.Array(PointPx),
})
export type WindowDefect = Static<typeof WindowDefect>

/** What the window of one coupon shows, relative to the bare copy of its target in the same photograph. */
export const WindowDetail = Type.Object({
  surface: Type.Intersect([MeasuredValue], {
    description:
      'surface index: share of the contrast of 2 mm bars across the build lost to layer lines and the like, which smoothing or a coat could win back',
  }),
  clarity: Type.Array(
    Type.Object({
      direction: Type.Union([Type.Literal('along-build'), Type.Literal('across-build')]),
      pitchMm: Type.Number(),
      angleDeg: Type.Number({ description: 'bars of this pitch lose what is scattered beyond about this angle' }),
      kept: MeasuredValue,
    }),
    { description: 'contrast of bars kept, of the light that comes through' },
  ),
  scatterAngleDeg: Type.Intersect([MeasuredValue], { description: 'half of the scattered light goes out within it' }),
  transmission: Type.Intersect([MeasuredValue], { description: "share of bare paper's light" }),
  mirroredLight: Type.Intersect([MeasuredValue], { description: "share of bare paper's light, taken out" }),
  yellowness: Type.Object(
    {
      thicknessMm: Type.Number(),
      deltaB: MeasuredValue,
      deltaYellownessIndex: MeasuredValue,
      deltaE2000: MeasuredValue,
    },
    { description: 'change of white by this thickness of resin: relative, no spectrum was measured' },
  ),
  defects: Type.Array(WindowDefect, { description: 'over the target and its white border' }),
  defectShare: Type.Number({ description: 'of the examined part of the window that they cover' }),
  examinedMm2: Type.Number(),
  score: Type.Object({
    value: Type.Number({ minimum: 0, maximum: 100 }),
    standardUncertainty: Type.Number({ minimum: 0 }),
    formula: Type.String(),
  }),
  calibratedHazePercent: Type.Optional(
    Type.Intersect([MeasuredValue], {
      description: 'haze on the scale of two pieces of known haze, if these were given',
    }),
  ),
})
export type WindowDetail = Static<typeof WindowDetail>

const rungCommon = {
  slot: Type.Integer({ minimum: 1 }),
  exposureS: Type.Number(),
  outlinePx: Type.Array(PointPx, { description: 'the coupon, or its empty slot' }),
}
export const ReadRung = Type.Object({
  ...rungCommon,
  growthUm: GrowthValue,
  printThroughUm: Type.Optional(MeasuredValue),
  smallestLineUm: Type.Union([Type.Number(), Type.Null()], { description: 'narrowest standing line; null: none' }),
  smallestSpaceUm: Type.Union([Type.Number(), Type.Null()], { description: 'narrowest open space; null: none' }),
  haze: Type.Optional(
    Type.Intersect([MeasuredValue], {
      description: 'our relative haze index: share of light scattered beyond 2.5 degrees, not a standard haze value',
    }),
  ),
  yellownessPerMm: Type.Optional(MeasuredValue),
  window: Type.Optional(WindowDetail),
  inking: Type.Union([Type.Literal('grooves'), Type.Literal('lands')]),
  offAxisDeg: Type.Number(),
  rotationDeg: Type.Number({ description: 'of the coupon in its slot' }),
  umPerPx: Type.Number(),
  uncertaintyBudget: Type.Array(UncertaintyTerm),
  gratings: Type.Array(GratingReading),
  gaps: Type.Array(GapReading),
  isolated: Type.Array(IsolatedReading),
  windowOutlinePx: Type.Array(PointPx),
  notes: Type.Array(RefusalReply, { description: 'parts of this coupon that could not be read, each with its reason' }),
})
export type ReadRung = Static<typeof ReadRung>
export const RefusedRung = Type.Object({ ...rungCommon, refusal: RefusalReply })
export type RefusedRung = Static<typeof RefusedRung>
export const Rung = Type.Union([ReadRung, RefusedRung])
export type Rung = Static<typeof Rung>
