import fc from 'fast-check'
import sharp from 'sharp'
import { Value } from 'typebox/value'
import { expect, it } from 'vitest'
import { SettingSheet } from '../../../server/api/sheets.js'
import { sheetAs } from '../../../server/sheets/forms.js'
import { labelPart, labelText, readLabelText } from '../../../server/sheets/label-text.js'
import { readSheet } from '../../../server/sheets/take-in.js'
import { anySheet, codePicture, extracted, fullSheet } from './sheets.js'

const nobody = () => undefined
const takenIn = async (bytes: Uint8Array | string) => readSheet(await extracted(bytes), nobody)

it('has a full sheet that follows the schema', () => {
  expect([...Value.Errors(SettingSheet, fullSheet)]).toEqual([])
})

it.each(['json', 'html', 'pdf'] as const)('comes back from %s with every field as it was', async (form) => {
  expect(await takenIn(await sheetAs(fullSheet, form, 'a4'))).toMatchObject({ sheet: fullSheet, from: form })
})

it.each([
  ['json', 200],
  ['html', 60],
  ['pdf', 12],
] as const)('comes back from %s whatever the words in it', async (form, numRuns) => {
  await fc.assert(
    fc.asyncProperty(anySheet, async (sheet) => {
      const { sheet: back } = await takenIn(await sheetAs(sheet, form, 'letter'))
      expect(back).toEqual(sheet)
    }),
    { numRuns },
  )
})

it('comes back from the text on a label as the part that a label holds', () => {
  fc.assert(
    fc.property(anySheet, (sheet) => {
      const part = labelPart(sheet)
      expect(readLabelText(labelText(part))).toEqual(part)
      expect(part).toMatchObject({ exposureS: sheet.exposureS, layerHeightUm: sheet.layerHeightUm })
    }),
    { numRuns: 500 },
  )
})

it('writes one field a line on a label, for people to read', () => {
  expect(labelText(labelPart(fullSheet)).split('\n').slice(0, 6)).toEqual([
    'Stepglass setting: 1',
    'simulated: true',
    'exposure s: 2.7',
    'from s: 2.415',
    'to s: 3.087',
    'layers um: 50',
  ])
})

it('reads a label off a photograph of its code: blurred, tilted, in poor light', async () => {
  const part = labelPart(fullSheet)
  const photo = await codePicture(labelText(part), 700)
    .affine([1, 0.12, -0.08, 0.93], { background: '#887f70' })
    .rotate(11, { background: '#887f70' })
    .extend({ top: 150, bottom: 90, left: 120, right: 200, background: '#887f70' })
    .blur(1.6)
    .linear(0.55, 30)
    .jpeg({ quality: 70 })
    .toBuffer()
  expect(await takenIn(photo)).toMatchObject({ sheet: part, from: 'label' })
})

it('takes the chat picture itself for a label', async () => {
  expect((await takenIn(await sheetAs(fullSheet, 'png', 'a4'))).sheet).toEqual(labelPart(fullSheet))
})

const json = JSON.stringify(fullSheet)
it.each([
  ['newer-sheet', json.replace('setting-1', 'setting-2')],
  ['not-a-sheet', json.replace('"exposureS":2.7', '"exposureS":"2.7"')],
  ['not-a-sheet', json.replace('{', '{"extra":1,')],
  ['not-a-sheet', json.slice(0, 300)],
  ['not-a-sheet', '{"schema":"another"}'],
  ['sheet-too-large', `{"schema":"${'x'.repeat(2_000_000)}"}`],
  ['no-sheet-in-file', '<html><body>nothing</body></html>'],
  ['no-sheet-in-file', '%PDF-1.4\n%%EOF'],
  ['no-sheet-in-file', 'plain words'],
] as const)('refuses with %s, and says what to do', async (code, bytes) => {
  const refusal = await takenIn(bytes).then(
    () => undefined,
    (error: unknown) => error,
  )
  // A PDF of nothing may also be called damaged.
  expect(refusal).toMatchObject({ code: bytes.startsWith('%PDF') ? 'damaged-file' : code, statusCode: 422 })
  expect((refusal as { advice: string }).advice.length).toBeGreaterThan(10)
})

it('refuses a picture without a code, and one with the code of a card or of anything else', async () => {
  const blank = await sharp({ create: { width: 600, height: 400, channels: 3, background: '#ccc' } })
    .png()
    .toBuffer()
  await expect(takenIn(blank)).rejects.toMatchObject({ code: 'no-code' })
  await expect(takenIn(await codePicture('https://example.org/', 400).png().toBuffer())).rejects.toMatchObject({
    code: 'other-code',
  })
})
