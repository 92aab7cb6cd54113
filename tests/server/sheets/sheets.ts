import fc from 'fast-check'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import type { SettingSheet } from '../../../server/api/sheets.js'
import { drawCode } from '../../../server/sheets/code-drawing.js'
import extractSetting from '../../../server/worker/extract-setting.js'

const jpeg = await sharp({ create: { width: 60, height: 40, channels: 3, background: '#456' } })
  .jpeg()
  .toBuffer()

/** A sheet with every field filled: made up, in no way measured. */
export const fullSheet: SettingSheet = {
  schema: 'stepglass-setting-1',
  sheetId: '7KG97L7Y',
  madeOn: '2026-11-25',
  madeBy: 'Workshop at the canal',
  simulated: true,
  exposureS: 2.7,
  intervalS: [2.415, 3.087],
  usableRange: { toleranceUm: 20, rangeS: [1.74, 4.29], reachesEnd: { low: false, high: true } },
  layerHeightUm: 50,
  pixelPitchUm: 34,
  timeStepS: 0.05,
  irradianceMwPerCm2: 3.1,
  temperatureC: 23,
  resin: { name: 'Lab mix 4', maker: 'Ourselves', colour: 'clear' },
  bottle: { name: 'Shelf 2, left', batch: 'B-0417', openedOn: '2026-03-02' },
  printer: 'North bench',
  growth: {
    rungs: [1.6, 2.5, 4].map((exposureS, i) => ({
      exposureS,
      growthUm: { value: -20 + 22 * i, standardUncertainty: 2.9 },
    })),
    curve: [1.6, 2.5, 4].map((exposureS, i) => ({
      exposureS,
      growthUm: -20 + 22 * i,
      lowUm: -26 + 22 * i,
      highUm: -14 + 22 * i,
    })),
  },
  lineUm: 102,
  spaceUm: 153,
  sizesFrom: 'survival',
  haze: { value: 0.0543, standardUncertainty: 0.0069 },
  yellownessPerMm: { value: 0.0061, standardUncertainty: 0.0006 },
  howSure: 'With 95 % confidence dose-to-size lies between 2.42 and 3.09 s.',
  chosenBecause: 'Dose-to-size: the exposure at which lines come out as wide as drawn.',
  limitedBy: '0.2 mm walls',
  otherHeights: [{ layerHeightUm: 25, rangeS: [1.27, 2.8] }],
  photoJpeg: jpeg.toString('base64'),
  method: 'One photograph of a ladder of 3 coupons.',
  note: 'Films changed the day before.',
}

/** What people, or those who mean ill, may put into a name. */
const word = fc
  .oneof(
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 40 }),
    fc.constantFrom(
      '<script>alert(1)</script>',
      '</script><b>',
      '"><img src=x onerror=1>',
      "=cmd|' /C calc'!A0",
      'a: b',
      '- x',
      '&amp;',
      '{}',
      'null',
      '1',
    ),
  )
  .map((text) => text.trim())
  .filter((text) => text.length > 0 && !/\p{Surrogate}/u.test(text))

const day = fc
  .date({ min: new Date('2020-01-01'), max: new Date('2040-01-01'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10))
const seconds = fc.integer({ min: 1, max: 99_000 }).map((n) => n / 100)

/** Sheets with any of the fields that a label has, and any words in them. */
export const anySheet: fc.Arbitrary<SettingSheet> = fc.record(
  {
    schema: fc.constant('stepglass-setting-1' as const),
    sheetId: fc.stringMatching(/^[0-9A-Z]{8}$/),
    madeOn: day,
    madeBy: word,
    exposureS: seconds,
    intervalS: fc.tuple(seconds, seconds).map(([a, b]): [number, number] => (a < b ? [a, b] : [b, a])),
    layerHeightUm: fc.integer({ min: 20, max: 200 }),
    temperatureC: fc.integer({ min: 10, max: 40 }),
    resin: word.map((name) => ({ name })),
    bottle: fc.record({ name: word, batch: word }, { requiredKeys: ['name'] }),
    printer: word,
    method: word,
    note: word,
  },
  { requiredKeys: ['schema', 'sheetId', 'madeOn', 'exposureS', 'layerHeightUm', 'method'] },
)

/** What is found in a file of these bytes. */
export async function extracted(bytes: Uint8Array | string) {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-sheet-'))
  try {
    const path = join(folder, 'file')
    writeFileSync(path, bytes)
    return await extractSetting({ path })
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** A picture of nothing but the code of a text. @param edgePx of the picture */
export function codePicture(text: string, edgePx: number): Sharp {
  const { modules, path } = drawCode(text)
  const view = `viewBox="0 0 ${modules} ${modules}" width="${edgePx}" height="${edgePx}"`
  const paper = '<rect width="100%" height="100%" fill="#fff"/>'
  return sharp(Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" ${view}>${paper}<path d="${path}"/></svg>`))
}
