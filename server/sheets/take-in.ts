import { Value } from 'typebox/value'
import { SettingSheet, type TakenIn, type Verification } from '../api/sheets.js'
import { describeSchemaErrors, ServiceError } from '../plugins/errors.js'
import type { Extracted } from '../worker/extract-setting.js'
import { readLabelText } from './label-text.js'
import { verified } from './signature.js'

export interface ReceivedSheet {
  readonly sheet: SettingSheet
  readonly verification: Verification
  readonly from: TakenIn['from']
}

const refuse = (code: string, message: string, advice: string) => new ServiceError(422, code, message, advice)

/**
 * Reads a sheet from what was found in a file.
 *
 * @param nameOf what a public key is known as here
 * @throws {ServiceError} `no-sheet-in-file`, `newer-sheet`, `not-a-sheet`, `sheet-changed` and what `extractSetting` refuses
 */
export function readSheet(extracted: Extracted, nameOf: (publicKey: string) => string | undefined): ReceivedSheet {
  if (extracted.from === 'nothing') {
    const { code, advice, detail } = extracted.refusal
    throw refuse(code, `No setting was found in the file${detail === undefined ? '' : `: ${detail}`}.`, advice)
  }
  const sheet = extracted.from === 'label' ? labelSheet(extracted.texts) : dataSheet(extracted.json)
  const verification = verified(sheet, nameOf)
  if (verification.state === 'changed')
    throw refuse('sheet-changed', verification.inWords, 'Ask its maker for the original.')
  return { sheet, verification, from: extracted.from }
}

function labelSheet(texts: readonly string[]): SettingSheet {
  const [sheet] = texts.flatMap((text) => readLabelText(text) ?? [])
  if (sheet) return sheet
  throw refuse(
    'other-code',
    'The code in the picture holds no setting.',
    'Photograph the code of a bottle label or of a sheet; the code on a ladder’s card is another one.',
  )
}

function dataSheet(json: string): SettingSheet {
  const data = parsed(json)
  if (Value.Check(SettingSheet, data)) return data
  const schema = (data as { schema?: unknown } | null)?.schema
  const version = typeof schema === 'string' ? /^stepglass-setting-(\d+)$/.exec(schema)?.[1] : undefined
  if (version !== undefined && version !== '1')
    throw refuse(
      'newer-sheet',
      `The sheet is of version ${version}; this program reads version 1.`,
      'Update Stepglass.',
    )
  throw refuse(
    'not-a-sheet',
    schema === 'stepglass-setting-1'
      ? `The sheet is not as it should be: ${describeSchemaErrors(Value.Errors(SettingSheet, data), 'sheet')}.`
      : 'The file holds no setting.',
    'Ask for the sheet again; if it was edited by hand, ask for the original.',
  )
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json)
  } catch {
    throw refuse('not-a-sheet', 'The file is cut off or is no JSON.', 'Ask for the sheet again.')
  }
}
