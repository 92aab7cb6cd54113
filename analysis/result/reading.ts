import { Type, type Static } from 'typebox'
import { ProcessConclusion } from '../finish/process-schema.js'
import { LadderDesign } from '../layout/schema.js'
import { CaliperAnchor } from './caliper.js'
import {
  DoseToSize,
  GrowthFitReply,
  NoSuggestion,
  Suggestion,
  SurvivalModel,
  UsableRange,
  WindowTrend,
} from './conclusion.js'
import { MeasuredValue, PointPx, RefusalReply } from './parts.js'
import { GratingReading, ReadRung, RefusedRung, Rung } from './rung.js'

export const Gate = Type.Object(
  {
    gate: Type.Union([
      Type.Literal('overshoot', { description: "light's overshoot beside black edges, share of the step" }),
      Type.Literal('sharpening', { description: 'amount of the unsharp mask that was found and taken out' }),
      Type.Literal('tone-misfit', { description: "rms misfit of the tone patches, share of paper's light" }),
      Type.Literal('noise-correlation', {
        description: "of noise three pixels apart, across the borders of a JPEG's blocks",
      }),
      Type.Literal('odd-edges', {
        description:
          "how far the black edges' shape lies outside what a lens and sharpening give, standard uncertainties",
      }),
      Type.Literal('halo', { description: "lift of the paper's light beside the black discs" }),
    ]),
    value: Type.Optional(Type.Number()),
    limit: Type.Number(),
    passed: Type.Boolean(),
  },
  { description: 'a mark of what the camera did after its sensor, against its limit' },
)
export type Gate = Static<typeof Gate>

export const ReadLadder = Type.Object(
  {
    schema: Type.Literal('stepglass-reading-1'),
    design: LadderDesign,
    photo: Type.Object({ widthPx: Type.Integer(), heightPx: Type.Integer() }),
    card: Type.Object({
      umPerPx: Type.Number(),
      tiltDeg: Type.Number(),
      cameraDistanceMm: Type.Number(),
      radialDistortion: Type.Number({ description: 'k1: relative shift at the half diagonal' }),
      radialDistortion4: Type.Number({ description: 'k2, of fourth order; 0: the discs do not ask for it' }),
      printScaleRatio: Type.Intersect([MeasuredValue], {
        description: 'height over width of what was printed square; widths do not depend on it',
      }),
      bowMm: Type.Optional(
        Type.Number({ description: 'how far the middle stands over the edges, when the discs show it' }),
      ),
      residuals: Type.Array(
        Type.Object({
          fiducial: Type.Integer({ description: "index in the card's layout" }),
          xMm: Type.Number(),
          yMm: Type.Number(),
          dxUm: Type.Number({ description: 'seen less fitted, along x of the card' }),
          dyUm: Type.Number(),
        }),
        { description: 'of the discs that the pose rests on' },
      ),
      residualUm: Type.Number({ description: 'rms distance of the fiducials from the fitted pose' }),
      fiducialsFound: Type.Integer(),
      fiducialsExpected: Type.Integer(),
      fiducialsPx: Type.Array(PointPx),
    }),
    tone: Type.Object({
      exponent: Type.Number({ description: '1: the picture follows its declared tone curve' }),
      contrast: Type.Number({ description: 'S-shape about middle grey; 0: none' }),
      inkGainUm: Type.Number({ description: 'how far printed black spreads beyond each edge' }),
      residual: Type.Optional(Type.Number({ description: 'rms misfit of the tone patches, share of white' })),
      sharpening: Type.Optional(
        Type.Object(
          { amount: Type.Number(), radiusPx: Type.Number() },
          { description: 'unsharp mask found on the black edges and taken out' },
        ),
      ),
      patches: Type.Array(
        Type.Object({
          coverage: Type.Number({ description: 'nominal share of black' }),
          pitchMm: Type.Number(),
          codeValue: Type.Number({ description: 'mean code value, share of full scale' }),
          expectedLight: Type.Number({ description: 'of white paper, ink gain included' }),
          readLight: Type.Number({ description: 'of white paper, by the fitted curve' }),
        }),
        { description: 'the line gratings that tell tone from ink gain' },
      ),
      curve: Type.Optional(
        Type.Array(
          Type.Object({
            light: Type.Number({ description: 'of white paper' }),
            codeValue: Type.Number({ description: 'that the fitted curve gives it, share of full scale' }),
            srgbCodeValue: Type.Number({ description: 'that sRGB gives it, equal at the paper' }),
          }),
          { description: 'for drawing' },
        ),
      ),
    }),
    gates: Type.Array(Gate),
    rungs: Type.Array(Rung),
    caliper: Type.Optional(CaliperAnchor),
    growthFit: Type.Optional(GrowthFitReply),
    penetrationDepthUm: Type.Optional(MeasuredValue),
    windowTrends: Type.Optional(Type.Array(WindowTrend)),
    doseToSize: Type.Optional(DoseToSize),
    usableRange: Type.Optional(UsableRange),
    survival: Type.Optional(Type.Array(SurvivalModel)),
    suggestion: Type.Optional(Suggestion),
    noSuggestion: Type.Optional(NoSuggestion),
    process: Type.Optional(ProcessConclusion),
    resinTemperatureC: Type.Optional(Type.Number({ description: 'of the resin while printing, as noted' })),
    warnings: Type.Array(RefusalReply),
  },
  { $id: 'ReadLadder' },
)
/** What one photograph says of one ladder. */
export type ReadLadder = Static<typeof ReadLadder>

const CombinedGrating = Type.Pick(GratingReading, ['group', 'growthUm'])
export type CombinedGrating = Static<typeof CombinedGrating>

export const CombinedRung = Type.Union([
  Type.Intersect([
    Type.Pick(ReadRung, [
      ...(['slot', 'exposureS', 'growthUm', 'printThroughUm', 'smallestLineUm', 'smallestSpaceUm', 'haze'] as const),
      ...(['yellownessPerMm', 'uncertaintyBudget', 'isolated'] as const),
    ]),
    Type.Object({
      gratings: Type.Array(CombinedGrating),
      photos: Type.Integer({ minimum: 1, description: 'photographs on which it could be read' }),
    }),
  ]),
  Type.Pick(RefusedRung, ['slot', 'exposureS', 'refusal']),
])
export type CombinedRung = Static<typeof CombinedRung>

const conclusion = Type.Pick(ReadLadder, [
  ...([
    'growthFit',
    'penetrationDepthUm',
    'windowTrends',
    'doseToSize',
    'usableRange',
    'survival',
    'suggestion',
    'noSuggestion',
    'process',
  ] as const),
  ...(['design', 'caliper', 'warnings'] as const),
]).properties

export const CombinedLadder = Type.Object(
  {
    schema: Type.Literal('stepglass-combined-1'),
    photos: Type.Array(
      Type.Object({
        rungsRead: Type.Integer(),
        offsetUm: Type.Number({ description: 'growth that this photograph adds to all coupons against the others' }),
        weight: Type.Number(),
      }),
      { description: 'in the order given' },
    ),
    rungs: Type.Array(CombinedRung),
    ...conclusion,
  },
  { $id: 'CombinedLadder' },
)
/** What several photographs of the same coupons say together. */
export type CombinedLadder = Static<typeof CombinedLadder>

export const RefusedLadder = Type.Object(
  { schema: Type.Literal('stepglass-reading-1'), refusal: RefusalReply },
  { $id: 'RefusedLadder' },
)
export type RefusedLadder = Static<typeof RefusedLadder>

export const LadderReading = Type.Union([ReadLadder, RefusedLadder], { $id: 'LadderReading' })
/** Result of reading one photograph: the ladder, or the named reason why nothing can be read. */
export type LadderReading = Static<typeof LadderReading>
