import { Type, type Static, type TObject } from 'typebox'
import { IntervalS, LadderDesign } from '../../analysis/index.js'

const additionalProperties = false
const name = Type.String({ minLength: 1, maxLength: 60, pattern: '\\S' })
const note = Type.Optional(Type.String({ maxLength: 2000 }))
const text = (description: string) => Type.Optional(Type.String({ maxLength: 120, description }))
const day = (description: string) => Type.Optional(Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description }))
const limit = (minimum: number, maximum: number, description: string) =>
  Type.Optional(Type.Number({ minimum, maximum, description: `${description}, by the data sheet` }))
const link = (description: string) => Type.Optional(Type.String({ maxLength: 40, description }))

export const Resin = Type.Object(
  {
    name,
    maker: text('who makes it'),
    colour: text('as sold'),
    fromC: limit(0, 80, 'least temperature of the resin in use'),
    toC: limit(0, 80, 'greatest temperature of the resin in use'),
    viscosityMPaS: limit(1, 100_000, 'viscosity, mPa s'),
    viscosityAtC: limit(0, 80, 'temperature it is stated at'),
    standMin: limit(0, 10_000, 'least stand time before printing, min'),
    washLiquid: text('what to wash with'),
    washFlashC: limit(-60, 200, 'flash point of the wash liquid, degrees C'),
    washMaxMin: limit(0, 1000, 'longest wash, min'),
    dryMin: limit(0, 10_000, 'least time to dry before post-cure, min'),
    postCureMin: limit(0, 1000, 'least post-cure, min'),
    postCureLampW: limit(0.1, 5000, 'power of the lamp that time is stated for, W'),
    postCureNm: limit(300, 450, 'wavelength of the lamp, nm'),
    postCureJPerCm2: limit(0.01, 10_000, 'radiant exposure of post-cure at each face, J/cm2'),
    postCureMaxC: limit(20, 150, 'greatest temperature in post-cure'),
    softensC: limit(20, 300, 'temperature at which the cured part softens or bends, degrees C'),
    refractiveIndex: limit(1.2, 2, 'refractive index, cured'),
    note,
  },
  { additionalProperties },
)
export type Resin = Static<typeof Resin>

export const Bottle = Type.Object(
  {
    name,
    resinId: link('record of its resin'),
    batch: text("the maker's batch"),
    openedOn: day('first opened'),
    storedAt: text('where and how it is kept, such as dark, 20 degrees C'),
    remainingMl: Type.Optional(Type.Number({ minimum: 0, maximum: 100_000 })),
    note,
  },
  { additionalProperties },
)
export type Bottle = Static<typeof Bottle>

export const IrradianceReading = Type.Object(
  {
    date: Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$' }),
    mwPerCm2: Type.Number({ exclusiveMinimum: 0, maximum: 1000, description: 'at the resin surface' }),
    place: text('where on the mask'),
  },
  { additionalProperties },
)

export const Printer = Type.Object(
  {
    name,
    pixelPitchUm: LadderDesign.properties.pixelPitchUm,
    timeStepS: Type.Number({ minimum: 0.01, maximum: 60, description: 'smallest step of layer exposure' }),
    irradiance: Type.Optional(Type.Array(IrradianceReading, { maxItems: 500 })),
    note,
  },
  { additionalProperties },
)
export type Printer = Static<typeof Printer>

export const Setting = Type.Object(
  {
    exposureS: Type.Number({ exclusiveMinimum: 0, maximum: 999 }),
    intervalS: Type.Optional(IntervalS),
    layerHeightUm: LadderDesign.properties.layerHeightUm,
    origin: Type.Enum(['own', 'received'], { description: 'measured here, or handed over by someone else' }),
    simulated: Type.Optional(Type.Boolean({ description: 'true: from a simulated photograph, good for no resin' })),
    ladderId: Type.Optional(LadderDesign.properties.ladderId),
    readingId: link('reading that gave it'),
    bottleId: link('record of the bottle'),
    printerId: link('record of the printer'),
    temperatureC: Type.Optional(Type.Number({ minimum: -20, maximum: 100, description: 'of the resin' })),
    note,
  },
  { additionalProperties },
)
export type Setting = Static<typeof Setting>

export const Report = Type.Object(
  {
    part: Type.String({ minLength: 1, maxLength: 60, pattern: '\\S', description: 'which print' }),
    finding: Type.Enum(['brittle', 'soft'], { description: 'what was found' }),
    date: Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$' }),
    bottleId: link('record of the bottle'),
    note,
  },
  { additionalProperties, description: 'a print that turned brittle or stayed soft' },
)
export type Report = Static<typeof Report>

/** What each kind of record holds. */
export const recordKinds = { resin: Resin, bottle: Bottle, printer: Printer, setting: Setting, report: Report }
export type RecordKind = keyof typeof recordKinds
export type RecordContent = Resin | Bottle | Printer | Setting | Report

const stamps = {
  recordId: Type.String(),
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  changedAt: Type.String({ description: 'ISO 8601, UTC' }),
  archivedAt: Type.Optional(Type.String({ description: 'put away since; nothing is ever deleted' })),
  changes: Type.Integer({ minimum: 0, description: 'earlier states, each of which undo brings back' }),
}

/** A record with its content. */
export const recordOf = <Content extends TObject>(content: Content) => Type.Object({ ...stamps, content })
export interface StoredRecord<Content> {
  recordId: string
  createdAt: string
  changedAt: string
  archivedAt?: string
  changes: number
  content: Content
}

export const recordListOf = <Content extends TObject>(content: Content) =>
  Type.Object({ total: Type.Integer({ minimum: 0 }), records: Type.Array(recordOf(content)) })
export interface RecordList<Content> {
  total: number
  records: StoredRecord<Content>[]
}

export const RecordParams = Type.Object({ recordId: Type.String({ maxLength: 40 }) })
export type RecordParams = Static<typeof RecordParams>

/** Which part of a list is asked for. */
export const ListQuery = Type.Object(
  {
    search: Type.Optional(Type.String({ maxLength: 100, description: 'words that must all occur' })),
    archived: Type.Optional(Type.Boolean({ description: 'true: only what was put away (default: only the rest)' })),
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 50 })),
    offset: Type.Optional(Type.Integer({ minimum: 0, default: 0 })),
  },
  { additionalProperties },
)
export type ListQuery = Static<typeof ListQuery>

/** A change of a record: its whole content, or whether it is put away, or both. */
export const recordPatchOf = <Content extends TObject>(content: Content) =>
  Type.Object(
    { content: Type.Optional(content), archived: Type.Optional(Type.Boolean()) },
    { additionalProperties, minProperties: 1 },
  )
