import { extname } from 'node:path'
import { Value } from 'typebox/value'
import { measureLadder, type ReadLadder } from '../../analysis/index.js'
import { SettingSheet, SHEET_FORMS, type LabelSize, type SheetForm } from '../api/sheets.js'
import { describeSchemaErrors, ServiceError } from '../plugins/errors.js'
import { composeSheet } from '../sheets/compose-sheet.js'
import { sheetAs } from '../sheets/forms.js'
import { labelPdf } from '../sheets/label-pdf.js'
import { labelPart } from '../sheets/label-text.js'
import { sheetText } from '../sheets/sheet-words.js'
import { isSigningKey, signed } from '../sheets/signature.js'
import { readSheet } from '../sheets/take-in.js'
import { UsageError } from '../usage-error.js'
import { reasonText } from '../wording.js'
import extractSetting from '../worker/extract-setting.js'
import { checkReadable, readBytes, writeResult } from './files.js'
import { readReading } from './reading-file.js'

export interface SheetFlags {
  readonly output?: string
  readonly form?: SheetForm
  readonly paper: 'a4' | 'letter'
  readonly label?: LabelSize
  readonly resin?: string
  readonly bottle?: string
  readonly batch?: string
  readonly printer?: string
  readonly madeBy?: string
  readonly note?: string
  readonly key?: string
  readonly simulated?: boolean
}

async function readLadder(path: string): Promise<ReadLadder> {
  if (extname(path) === '.json') return readReading(path)
  const reading = await measureLadder(await readBytes(path))
  if ('refusal' in reading) throw new UsageError(`${path}: ${reading.refusal.code}. ${reading.refusal.advice}`)
  return reading
}

/** @throws {UsageError} if the file holds no key that can sign */
async function readKey(path: string): Promise<string> {
  const pem = (await readBytes(path)).toString()
  if (isSigningKey(pem)) return pem
  throw new UsageError(`${path}: no Ed25519 private key as PEM; openssl genpkey -algorithm ed25519 makes one`)
}

/** The form that a file's name asks for. */
function formOf({ form, output }: SheetFlags): SheetForm {
  const ending = extname(output ?? '').slice(1)
  return form ?? SHEET_FORMS.find((known) => known === ending) ?? 'txt'
}

/** Writes the setting sheet, or the bottle label, of what one photograph or its reading suggests. */
export async function sheet(path: string, flags: SheetFlags): Promise<void> {
  await checkReadable(path)
  // A wrong key is told before a photograph is read.
  const pem = flags.key === undefined ? undefined : await readKey(flags.key)
  const reading = await readLadder(path)
  const { suggestion, design } = reading
  if (!suggestion) throw new UsageError(`${path}: it gives no suggestion to hand on; stepglass measure says why`)
  const { resin, bottle, batch, printer, madeBy, note, simulated, paper, label, output = '-' } = flags
  const plain = composeSheet({
    setting: {
      exposureS: suggestion.exposureS,
      intervalS: suggestion.intervalS,
      layerHeightUm: design.layerHeightUm,
      origin: 'own',
      ...(simulated && { simulated }),
    },
    ...(resin !== undefined && { resin: { name: resin } }),
    ...((bottle ?? batch) !== undefined && {
      bottle: { name: bottle ?? batch!, ...(batch !== undefined && { batch }) },
    }),
    reading,
    madeBy,
    note,
    madeOn: new Date().toISOString().slice(0, 10),
  })
  const named = printer === undefined ? plain : { ...plain, printer }
  const errors = Value.Errors(SettingSheet, named)
  if (errors.length > 0) throw new UsageError(`${describeSchemaErrors(errors, 'sheet')}; give it other words`)
  const sign = (content: SettingSheet) => (pem === undefined ? content : signed(content, pem))
  await writeResult(
    output,
    label ? await labelPdf(sign(labelPart(named)), label) : await sheetAs(sign(named), formOf(flags), paper),
  )
}

/** Says what a sheet or label holds and whether it is as it was signed; the sheet itself with `json`. */
export async function takeIn(path: string, { json = false }: { readonly json?: boolean }): Promise<void> {
  await checkReadable(path)
  try {
    const { sheet, verification } = readSheet(await extractSetting({ path }), () => undefined)
    console.log(json ? JSON.stringify(sheet, undefined, 2) : `${sheetText(sheet)}\n${verification.inWords}`)
  } catch (error) {
    throw error instanceof ServiceError ? new UsageError(`${path}: ${reasonText(error)}`) : error
  }
}
