import { Type, type Static } from 'typebox'
import { IntervalS, LadderDesign, MeasuredValue } from '../../analysis/index.js'
import { RecordParams, Setting, recordOf } from './records.js'

const additionalProperties = false
const words = (maxLength: number, description?: string) =>
  Type.Optional(Type.String({ minLength: 1, maxLength, ...(description && { description }) }))
const day = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: 'year-month-day' })
const name = Type.String({ minLength: 1, maxLength: 120 })
const exposureS = Type.Number({ exclusiveMinimum: 0, maximum: 999 })
const growthUm = Type.Number({ minimum: -1000, maximum: 1000 })
const sizeUm = Type.Optional(Type.Number({ minimum: 0, maximum: 10_000 }))
const ends = Type.Object({ low: Type.Boolean(), high: Type.Boolean() }, { additionalProperties })
/** Nothing beside the value may travel along. */
const measured = Type.Object(MeasuredValue.properties, { additionalProperties })
const base64url = (bytes: number) => {
  const length = Math.ceil((bytes * 4) / 3)
  return Type.String({ minLength: length, maxLength: length, pattern: '^[A-Za-z0-9_-]+$' })
}

/** Says who vouches for the rest: Ed25519 (RFC 8032) over its canonical JSON (RFC 8785). */
export const Signature = Type.Object(
  { algorithm: Type.Literal('ed25519'), publicKey: base64url(32), value: base64url(64) },
  { additionalProperties },
)
export type Signature = Static<typeof Signature>

/** All that is handed on of one setting, and nothing else. */
export const SettingSheet = Type.Object(
  {
    schema: Type.Literal('stepglass-setting-1'),
    sheetId: Type.String({ pattern: '^[0-9A-Z]{6,12}$', description: 'names this sheet and nothing else' }),
    madeOn: day,
    madeBy: words(120, 'who hands it on, if they want to be named'),
    simulated: Type.Optional(Type.Boolean({ description: 'true: from a simulated photograph, good for no resin' })),
    exposureS,
    intervalS: Type.Optional(IntervalS),
    usableRange: Type.Optional(
      Type.Object({ toleranceUm: growthUm, rangeS: IntervalS, reachesEnd: ends }, { additionalProperties }),
    ),
    layerHeightUm: LadderDesign.properties.layerHeightUm,
    pixelPitchUm: Type.Optional(LadderDesign.properties.pixelPitchUm),
    timeStepS: Type.Optional(Type.Number({ minimum: 0.01, maximum: 60 })),
    irradianceMwPerCm2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000, description: 'as last read' })),
    temperatureC: Type.Optional(Type.Number({ minimum: -20, maximum: 100, description: 'of the resin' })),
    resin: Type.Optional(Type.Object({ name, maker: words(120), colour: words(120) }, { additionalProperties })),
    bottle: Type.Optional(
      Type.Object({ name, batch: words(120), openedOn: Type.Optional(day) }, { additionalProperties }),
    ),
    printer: Type.Optional(name),
    growth: Type.Optional(
      Type.Object(
        {
          rungs: Type.Array(Type.Object({ exposureS, growthUm: measured }, { additionalProperties }), {
            maxItems: 24,
          }),
          curve: Type.Array(
            Type.Object({ exposureS, growthUm, lowUm: growthUm, highUm: growthUm }, { additionalProperties }),
            { maxItems: 100 },
          ),
        },
        { additionalProperties, description: 'lateral growth per side against exposure, band of 95 %' },
      ),
    ),
    lineUm: sizeUm,
    spaceUm: sizeUm,
    sizesFrom: Type.Optional(
      Type.Enum(['survival', 'nearest-coupon'], {
        description: 'survive with 95 % chance by the fit, or smallest that was seen on the coupon nearest in exposure',
      }),
    ),
    haze: Type.Optional(measured),
    yellownessPerMm: Type.Optional(measured),
    howSure: words(600),
    chosenBecause: words(300),
    limitedBy: words(300),
    otherHeights: Type.Optional(
      Type.Array(
        Type.Object(
          { layerHeightUm: LadderDesign.properties.layerHeightUm, rangeS: IntervalS },
          { additionalProperties },
        ),
        { maxItems: 6, description: 'where the exposure at another layer height may lie: a ladder there decides' },
      ),
    ),
    photoJpeg: Type.Optional(
      Type.String({
        maxLength: 160_000,
        pattern: '^/9j/[A-Za-z0-9+/]+=*$',
        description: 'base64; small, without the camera’s notes',
      }),
    ),
    method: words(300, 'how it was measured'),
    note: words(500),
    signature: Type.Optional(Signature),
  },
  { additionalProperties, $id: 'SettingSheet' },
)
export type SettingSheet = Static<typeof SettingSheet>

/** What a person adds when a sheet is made. */
export const SheetRequest = Type.Object(
  {
    madeBy: SettingSheet.properties.madeBy,
    note: SettingSheet.properties.note,
    signed: Type.Optional(Type.Boolean({ description: 'with the key of this service (default: not)' })),
    photo: Type.Optional(Type.Boolean({ description: 'with a small picture of the coupons (default: with)' })),
  },
  { additionalProperties },
)
export type SheetRequest = Static<typeof SheetRequest>

export const SheetEntry = Type.Object({
  sheetId: Type.String(),
  settingId: Type.String(),
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  sheet: SettingSheet,
})
export type SheetEntry = Static<typeof SheetEntry>
export const SheetList = Type.Object({ sheets: Type.Array(SheetEntry) })

export const SheetParams = Type.Object({ sheetId: SettingSheet.properties.sheetId })
export const SHEET_FORMS = ['json', 'html', 'pdf', 'png', 'txt'] as const
export type SheetForm = (typeof SHEET_FORMS)[number]
export const SheetFormParams = Type.Object({
  sheetId: SettingSheet.properties.sheetId,
  form: Type.Enum([...SHEET_FORMS]),
})
export const PaperQuery = Type.Object(
  { paper: Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' })) },
  { additionalProperties },
)
/** Labels by width and height in mm. */
export const LABEL_SIZES = ['50x25', '70x36', '100x50'] as const
export type LabelSize = (typeof LABEL_SIZES)[number]
export const LabelQuery = Type.Object(
  { size: Type.Optional(Type.Enum([...LABEL_SIZES], { default: '70x36', description: 'mm' })) },
  { additionalProperties },
)

export const LinkRequest = Type.Object(
  { days: Type.Integer({ minimum: 1, maximum: 366, default: 30, description: 'after which it is dead' }) },
  { additionalProperties },
)
const linkFacts = {
  linkId: Type.String(),
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  expiresAt: Type.String({ description: 'ISO 8601, UTC' }),
  revokedAt: Type.Optional(Type.String()),
  views: Type.Integer({ minimum: 0 }),
}
export const LinkEntry = Type.Object(linkFacts)
export type LinkEntry = Static<typeof LinkEntry>
export const LinkList = Type.Object({ links: Type.Array(LinkEntry) })
export const NewLink = Type.Object({
  ...linkFacts,
  path: Type.String({ description: 'below the address of this service; told now and never again' }),
})
export type NewLink = Static<typeof NewLink>
export const LinkParams = Type.Object({
  sheetId: SettingSheet.properties.sheetId,
  linkId: Type.String({ maxLength: 40 }),
})

/** Whether a sheet is what its maker signed. */
export const Verification = Type.Object({
  state: Type.Enum(['unsigned', 'intact', 'changed']),
  fingerprint: Type.Optional(Type.String({ description: 'of the key, to be compared by word of mouth' })),
  knownAs: Type.Optional(Type.String({ description: 'what this service calls the key' })),
  inWords: Type.String(),
})
export type Verification = Static<typeof Verification>

export const TakenIn = Type.Object({
  setting: recordOf(Setting),
  sheet: SettingSheet,
  verification: Verification,
  from: Type.Enum(['json', 'html', 'pdf', 'label'], { description: 'what the file was' }),
})
export type TakenIn = Static<typeof TakenIn>

export const KeyReply = Type.Object({ publicKey: Signature.properties.publicKey, fingerprint: Type.String() })
export const KnownKey = Type.Object(
  { publicKey: Signature.properties.publicKey, name: Type.String({ minLength: 1, maxLength: 60 }) },
  { additionalProperties },
)
export type KnownKey = Static<typeof KnownKey>
export const KnownKeys = Type.Object({ keys: Type.Array(KnownKey) })

export const SideBySideQuery = Type.Object(
  { first: RecordParams.properties.recordId, second: RecordParams.properties.recordId },
  { additionalProperties },
)
export const SideBySide = Type.Object({
  rows: Type.Array(
    Type.Object({
      what: Type.String(),
      first: Type.Optional(Type.String()),
      second: Type.Optional(Type.String()),
      differs: Type.Boolean(),
    }),
  ),
  verdict: Type.Enum(['other-layer-height', 'no-interval', 'overlap', 'apart'], {
    description: 'what the difference means',
  }),
  exposureRatio: Type.Number({ description: 'of the second to the first' }),
  inWords: Type.String({ description: 'the same as a sentence' }),
})
export type SideBySide = Static<typeof SideBySide>

export const AdaptRequest = Type.Object(
  {
    printerId: Type.Optional(RecordParams.properties.recordId),
    fromMwPerCm2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    toMwPerCm2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    timeStepS: Type.Optional(Type.Number({ minimum: 0.01, maximum: 60 })),
  },
  { additionalProperties },
)
export type AdaptRequest = Static<typeof AdaptRequest>
export const Adapted = Type.Object({
  byIrradiance: Type.Optional(Type.Object({ exposureS: Type.Number(), intervalS: IntervalS, caution: Type.String() })),
  threeRungsS: Type.Array(Type.Number(), { description: 's; to be printed before the setting is trusted' }),
  inWords: Type.String(),
})
export type Adapted = Static<typeof Adapted>

export const BatchQuery = Type.Object(
  {
    ids: Type.String({
      maxLength: 10_000,
      pattern: '^[0-9a-f-]{36}(,[0-9a-f-]{36})*$',
      description: 'settings, by comma',
    }),
    title: words(120),
  },
  { additionalProperties },
)
export const BatchParams = Type.Object({ form: Type.Enum(['html', 'csv', 'json']) })
/** Settings by printer and layer height, as a shop or a maker of resin publishes them. */
export const SettingTable = Type.Object(
  {
    schema: Type.Literal('stepglass-settings-1'),
    title: words(120),
    madeOn: day,
    settings: Type.Array(
      Type.Object(
        {
          resin: words(120),
          bottle: words(120),
          batch: words(120),
          printer: words(120),
          layerHeightUm: LadderDesign.properties.layerHeightUm,
          exposureS,
          lowS: Type.Optional(exposureS),
          highS: Type.Optional(exposureS),
          temperatureC: SettingSheet.properties.temperatureC,
          simulated: SettingSheet.properties.simulated,
        },
        { additionalProperties },
      ),
    ),
  },
  { additionalProperties, $id: 'SettingTable' },
)
export type SettingTable = Static<typeof SettingTable>
