import { Type, type Static } from 'typebox'
import { FACTORS, type Factor } from './factors.js'

/** A place or vector in millimetres, [x, y]. */
export const PointMm = Type.Tuple([Type.Number(), Type.Number()])
export type PointMm = Static<typeof PointMm>

export const LadderDesign = Type.Object(
  {
    ladderId: Type.String({
      pattern: '^[0-9A-Z]{4,10}$',
      description: 'short name of the ladder, printed on its card',
    }),
    layerHeightUm: Type.Number({ minimum: 10, maximum: 300 }),
    pixelPitchUm: Type.Number({ minimum: 8, maximum: 120, description: 'edge of one mask pixel' }),
    exposuresS: Type.Array(Type.Number({ exclusiveMinimum: 0, maximum: 999 }), {
      minItems: 1,
      maxItems: 8,
      description: 'layer exposure of each rung, in slot order; all the same where the rungs differ in something else',
    }),
    factor: Type.Optional(
      Type.Enum(Object.keys(FACTORS) as Factor[], {
        description: 'what the rungs differ in, each by its level (default: exposure)',
      }),
    ),
    levels: Type.Optional(
      Type.Array(Type.String({ pattern: '^[0-9A-Z]([0-9A-Z .+-]{0,6}[0-9A-Z])?$' }), {
        minItems: 2,
        maxItems: 8,
        description:
          "level of each rung in slot order: a number in the factor's unit, or a name such as P800, J2000 or DIP; repeats are more coupons of a level",
      }),
    ),
    cardEdition: Type.Optional(
      Type.Literal(1, {
        description: 'of a card whose black patch had white around it; left out: as cards are printed now',
      }),
    ),
  },
  { $id: 'LadderDesign', additionalProperties: false },
)
/** What a ladder is: all that its card must carry so that a photograph of it can be read with no database. */
export type LadderDesign = Static<typeof LadderDesign>

export const PrismRole = Type.Union([
  Type.Literal('plate'),
  Type.Literal('leg'),
  Type.Literal('caliper-leg'),
  Type.Literal('window'),
  Type.Literal('ink-pad'),
  Type.Literal('x-grating'),
  Type.Literal('z-gap'),
  Type.Literal('x-space'),
  Type.Literal('x-line'),
  Type.Literal('key'),
])

export const Prism = Type.Object({
  id: Type.String(),
  role: PrismRole,
  kind: Type.Union([Type.Literal('solid'), Type.Literal('void'), Type.Literal('window')]),
  group: Type.Optional(Type.String({ description: 'the grating or comb this prism is a member of' })),
  polygon: Type.Array(PointMm, { minItems: 3 }),
  z0: Type.Number({ description: 'mm above the card when the coupon lies in its slot' }),
  z1: Type.Number(),
  ink: Type.Boolean({ description: 'void: takes the dark wash; solid: its top takes ink from a roller' }),
})
export type Prism = Static<typeof Prism>

export const XGrating = Type.Object({
  group: Type.String(),
  pitchMm: Type.Number(),
  grooveMm: Type.Number({ description: 'nominal width of a groove' }),
  grooves: Type.Integer(),
  x0Mm: Type.Number({ description: 'left edge of the first groove' }),
  y0Mm: Type.Number(),
  y1Mm: Type.Number(),
})
export type XGrating = Static<typeof XGrating>

export const ZGap = Type.Object({
  id: Type.String(),
  gapMm: Type.Number(),
  x0Mm: Type.Number(),
  x1Mm: Type.Number(),
  y0Mm: Type.Number({ description: 'side printed earlier' }),
  y1Mm: Type.Number({ description: 'side printed later' }),
})
export type ZGap = Static<typeof ZGap>

export const IsolatedFeature = Type.Object({
  id: Type.String(),
  kind: Type.Union([Type.Literal('line'), Type.Literal('space')]),
  widthMm: Type.Number(),
  x0Mm: Type.Number(),
  x1Mm: Type.Number(),
  y0Mm: Type.Number(),
  y1Mm: Type.Number(),
})
export type IsolatedFeature = Static<typeof IsolatedFeature>

export const LabelBox = Type.Object({
  y0: Type.Number(),
  y1: Type.Number(),
  z0: Type.Number(),
  z1: Type.Number(),
})

export const CouponLayout = Type.Object(
  {
    name: Type.String(),
    build: Type.Literal('+y', { description: 'direction in which layers follow each other' }),
    sizeMm: Type.Object({ x: Type.Number(), y: Type.Number(), z: Type.Number() }),
    plateZ0Mm: Type.Number(),
    faceZMm: Type.Number({ description: 'height of the inked face above the card' }),
    grooveDepthMm: Type.Number(),
    prisms: Type.Array(Prism),
    gratings: Type.Array(XGrating),
    gaps: Type.Array(ZGap),
    isolated: Type.Array(IsolatedFeature),
    window: Type.Object({ x0Mm: Type.Number(), y0Mm: Type.Number(), x1Mm: Type.Number(), y1Mm: Type.Number() }),
    key: Type.Object({ x0Mm: Type.Number(), y0Mm: Type.Number(), x1Mm: Type.Number(), y1Mm: Type.Number() }),
    caliperMm: Type.Number({ description: 'width across x of the left leg, to be checked with a caliper' }),
    labelPlane: Type.Object({
      x0Mm: Type.Number({ description: 'outer face of the right leg' }),
      heightMm: Type.Number({ description: 'how far labels stand out of it' }),
    }),
  },
  { $id: 'CouponLayout' },
)
/** One coupon as it lies: x across, y along the build, z up from the card; lower left corner at (0, 0). */
export type CouponLayout = Static<typeof CouponLayout>

export const RectMm = Type.Object({ x0: Type.Number(), y0: Type.Number(), x1: Type.Number(), y1: Type.Number() })
export type RectMm = Static<typeof RectMm>

export const BarTarget = Type.Object({
  fine: Type.Object({ pitchMm: Type.Number(), periods: Type.Integer(), areaMm: RectMm }),
  medium: Type.Object({ pitchMm: Type.Number(), periods: Type.Integer(), areaMm: RectMm }),
  across: Type.Object({ pitchMm: Type.Number(), bars: Type.Integer(), areaMm: RectMm }),
  whiteMm: RectMm,
  blackMm: RectMm,
  blackGroundMm: Type.Optional(
    Type.Object(RectMm.properties, {
      description: 'black that the black patch is a part of; left out: white is around it',
    }),
  ),
})
/** Bars and patches of one target. Every bar group begins with black at its left or lower side; the black patch may be part of a larger ground. */
export type BarTarget = Static<typeof BarTarget>

export const Slot = Type.Object({
  slot: Type.Integer({ minimum: 1 }),
  exposureS: Type.Number(),
  rung: Type.String({ description: 'what sets this rung apart, as it is written: 2.5 s, 10 min, P800' }),
  originMm: Type.Tuple([Type.Number(), Type.Number()], { description: "the coupon's lower left corner on the card" }),
  windowTarget: BarTarget,
  bareTarget: BarTarget,
})
export type Slot = Static<typeof Slot>

export const TonePatch = Type.Object({
  coverage: Type.Number({ description: 'nominal black share: 0 white, 1 black' }),
  pitchMm: Type.Optional(Type.Number()),
  areaMm: RectMm,
})
export type TonePatch = Static<typeof TonePatch>

export const CardText = Type.Object({
  text: Type.String(),
  xMm: Type.Number(),
  yMm: Type.Number({ description: 'baseline' }),
  sizeMm: Type.Number({ description: 'font size' }),
  bold: Type.Boolean(),
})
export type CardText = Static<typeof CardText>

export const CardLayout = Type.Object(
  {
    sizeMm: Type.Object({ x: Type.Number(), y: Type.Number() }),
    dotMm: Type.Number({ description: 'printer dot on which every straight edge lies' }),
    fiducials: Type.Array(Type.Object({ xMm: Type.Number(), yMm: Type.Number(), diameterMm: Type.Number() })),
    code: Type.Object({
      payload: Type.String(),
      x0Mm: Type.Number({ description: 'left edge of the left column of modules' }),
      y1Mm: Type.Number({ description: 'upper edge of the top row of modules' }),
      moduleMm: Type.Number(),
      rows: Type.Array(Type.String(), { description: 'one character a module, 1 is black, top row first' }),
    }),
    tone: Type.Array(TonePatch),
    slots: Type.Array(Slot),
    black: Type.Array(RectMm, { description: 'every black rectangle except the code: bars, patches, gratings, marks' }),
    texts: Type.Array(CardText),
  },
  { $id: 'CardLayout' },
)
/** The card: origin at its centre, x right, y up. */
export type CardLayout = Static<typeof CardLayout>

export const LadderLayout = Type.Object(
  {
    schema: Type.Literal('stepglass-layout-1'),
    design: LadderDesign,
    coupon: CouponLayout,
    labels: Type.Array(Type.Object({ slot: Type.Integer(), text: Type.String(), boxesMm: Type.Array(LabelBox) }), {
      description: 'raised on the outer face of the right leg, one entry a rung',
    }),
    card: CardLayout,
  },
  { $id: 'LadderLayout' },
)
/** Everything that is printed for one ladder. The single source for geometry, card, reader and drawings. */
export type LadderLayout = Static<typeof LadderLayout>
