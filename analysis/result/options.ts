import { Type, type Static } from 'typebox'
import { CaliperTab } from './caliper.js'

export const HazeStandard = Type.Object(
  { index: Type.Number(), hazePercent: Type.Number({ minimum: 0, maximum: 100 }) },
  { additionalProperties: false },
)
export type HazeStandard = Static<typeof HazeStandard>

export const MeasureOptions = Type.Object(
  {
    toleranceUm: Type.Number({ exclusiveMinimum: 0, default: 20, description: 'lateral growth allowed per side, um' }),
    timeStepS: Type.Number({
      exclusiveMinimum: 0,
      default: 0.1,
      description: "the printer's smallest step of layer exposure, s",
    }),
    smallestLineUm: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'narrowest wall that must stand, um' }),
    ),
    smallestSpaceUm: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'narrowest gap that must stay open, um' }),
    ),
    caliperMm: Type.Optional(
      Type.Array(CaliperTab, {
        minItems: 1,
        maxItems: 16,
        description: 'caliper readings of the tabs, which anchor the absolute growth; repeats average',
      }),
    ),
    caliperUncertaintyMm: Type.Optional(
      Type.Number({
        exclusiveMinimum: 0,
        maximum: 0.5,
        description: 'standard uncertainty of the caliper itself, mm (default: 0.012, a maximum error of 0.02)',
      }),
    ),
    resinTemperatureC: Type.Optional(
      Type.Number({
        minimum: -20,
        maximum: 100,
        description: 'of the resin while printing, degrees C; noted and warned about, never corrected for',
      }),
    ),
    turnedSlots: Type.Optional(
      Type.Array(Type.Integer({ minimum: 1 }), {
        description:
          'slots whose coupon was printed turned by 90 degrees about the vertical: its lines grow along the other axis of the mask',
      }),
    ),
    prefer: Type.Optional(
      Type.Enum(['size', 'clarity'], {
        description:
          'within the tolerance: size (default) takes dose-to-size, clarity the clearest exposure if haze shows a trend',
      }),
    ),
    mostYellownessPerMm: Type.Optional(
      Type.Number({
        exclusiveMinimum: 0,
        description: 'most yellowness wanted, log10 of red over blue per mm; bounds the exposure if it shows a trend',
      }),
    ),
    hazeCalibration: Type.Optional(
      Type.Tuple([HazeStandard, HazeStandard], {
        description:
          'two pieces of known haze and the index each was read with; values are then given on their scale too',
      }),
    ),
    keepProfiles: Type.Boolean({ default: false, description: 'add each grating profile with its fit to the result' }),
  },
  { $id: 'MeasureOptions', additionalProperties: false },
)
export type MeasureOptions = Static<typeof MeasureOptions>
