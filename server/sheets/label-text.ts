import { Type, type Static } from 'typebox'
import { Value } from 'typebox/value'
import { parse, stringify } from 'yaml'
import { Signature, SettingSheet } from '../api/sheets.js'

const { properties: sheet } = SettingSheet
const words = Type.Optional(Type.String({ minLength: 1, maxLength: 60 }))

/** What the code on a bottle's label holds. The names are read by people: any phone shows them as they stand. */
const LabelText = Type.Object(
  {
    'Stepglass setting': Type.Literal(1),
    simulated: Type.Optional(Type.Literal(true)),
    'exposure s': sheet.exposureS,
    'from s': Type.Optional(sheet.exposureS),
    'to s': Type.Optional(sheet.exposureS),
    'layers um': sheet.layerHeightUm,
    resin: words,
    bottle: words,
    batch: words,
    printer: words,
    'pixels um': sheet.pixelPitchUm,
    'mW per cm2': sheet.irradianceMwPerCm2,
    'resin C': sheet.temperatureC,
    made: sheet.madeOn,
    by: words,
    sheet: sheet.sheetId,
    signature: Type.Optional(Type.String({ maxLength: 200, pattern: '^[A-Za-z0-9_-]+ [A-Za-z0-9_-]+$' })),
  },
  { additionalProperties: false },
)
type LabelText = Static<typeof LabelText>

const LONGEST = 60
const brief = (text: string | undefined) => (text === undefined ? undefined : text.slice(0, LONGEST).trim())

/** Fields without a value are left out. */
const filled = (fields: Readonly<Record<string, unknown>>) =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined))

/** The part of a sheet that a label holds, unsigned: the signature of a whole says nothing of its parts. */
export function labelPart({ signature: _, ...whole }: SettingSheet): SettingSheet {
  return labelSheet(labelFields(whole))
}

function labelFields(from: SettingSheet): LabelText {
  const { signature } = from
  return filled({
    'Stepglass setting': 1,
    simulated: from.simulated ? true : undefined,
    'exposure s': from.exposureS,
    'from s': from.intervalS?.[0],
    'to s': from.intervalS?.[1],
    'layers um': from.layerHeightUm,
    resin: brief(from.resin?.name),
    bottle: brief(from.bottle?.name),
    batch: brief(from.bottle?.batch),
    printer: brief(from.printer),
    'pixels um': from.pixelPitchUm,
    'mW per cm2': from.irradianceMwPerCm2,
    'resin C': from.temperatureC,
    made: from.madeOn,
    by: brief(from.madeBy),
    sheet: from.sheetId,
    signature: signature && `${signature.publicKey} ${signature.value}`,
  }) as LabelText
}

const METHOD = 'Read from a bottle label, which holds the setting alone.'

function labelSheet(label: LabelText): SettingSheet {
  const { 'from s': from, 'to s': to, batch, signature } = label
  const bottle = label.bottle ?? batch
  const [publicKey = '', value = ''] = signature?.split(' ') ?? []
  return filled({
    schema: 'stepglass-setting-1',
    sheetId: label.sheet,
    madeOn: label.made,
    madeBy: label.by,
    simulated: label.simulated,
    exposureS: label['exposure s'],
    intervalS: from !== undefined && to !== undefined ? [from, to] : undefined,
    layerHeightUm: label['layers um'],
    pixelPitchUm: label['pixels um'],
    irradianceMwPerCm2: label['mW per cm2'],
    temperatureC: label['resin C'],
    resin: label.resin === undefined ? undefined : { name: label.resin },
    bottle: bottle === undefined ? undefined : { name: bottle, ...(batch !== undefined && { batch }) },
    printer: label.printer,
    method: METHOD,
    signature: signature && { algorithm: 'ed25519', publicKey, value },
  }) as SettingSheet
}

/** The label's code as YAML 1.2, a line a field: read by people on any phone, and by `readLabelText`. */
export const labelText = (part: SettingSheet): string => stringify(labelFields(part), { lineWidth: 0 })

/** @returns the setting, or nothing when the text is not a label's */
export function readLabelText(text: string): SettingSheet | undefined {
  const fields = parsed(text)
  if (!Value.Check(LabelText, fields)) return undefined
  const found = labelSheet(fields)
  return found.signature === undefined || Value.Check(Signature, found.signature) ? found : undefined
}

function parsed(text: string): unknown {
  try {
    return parse(text, { maxAliasCount: 0, schema: 'core' })
  } catch {
    return undefined
  }
}
