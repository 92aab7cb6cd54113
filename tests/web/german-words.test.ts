import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, expect, it, onTestFinished, vi } from 'vitest'
import { measureLadder } from '../../analysis/measure-ladder.js'
import type { Adapted, SideBySide } from '../../server/api/sheets.js'
import { buildApp } from '../../server/app.js'
import { answerWorkingCurve } from '../../server/planning.js'
import { composeSheet, type SheetSource } from '../../server/sheets/compose-sheet.js'
import { sheetWords } from '../../server/sheets/sheet-words.js'
import { valueOf } from '../support/outcomes.js'

let words: typeof import('../../web/texts/details.js') &
  typeof import('../../web/texts/failures.js') &
  typeof import('../../web/texts/answers.js') &
  typeof import('../../web/texts/plan.js') &
  typeof import('../../web/format.js')
beforeAll(async () => {
  vi.stubGlobal('navigator', { languages: ['de-DE'] })
  vi.resetModules()
  words = {
    ...(await import('../../web/texts/details.js')),
    ...(await import('../../web/texts/failures.js')),
    ...(await import('../../web/texts/answers.js')),
    ...(await import('../../web/texts/plan.js')),
    ...(await import('../../web/format.js')),
  }
})

it('names what is wrong with a request', async () => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-words-'))
  const app = await buildApp({ dataFolder })
  onTestFinished(async () => {
    await app.close()
    rmSync(dataFolder, { recursive: true })
  })
  const plan = { layerHeightUm: -5, range: { fromS: 2, toS: 4, rungs: 99, timeStepS: 0.1 }, colour: 'red' }
  const headers = { host: '127.0.0.1' }
  const reply = await app.inject({ method: 'POST', url: '/api/ladders/plan', headers, payload: plan })
  expect(reply.statusCode).toBe(400)
  const { message } = words.inLanguage(reply.json())
  expect(message).toMatch(/^Eine dieser Angaben kann der Dienst nicht annehmen\. Es geht um: /)
  for (const name of ['Schichthöhe', 'Pixelgröße', 'Sprossen', 'colour']) expect(message).toContain(name)
})

it.each([
  ['7 of 15 discs found, 10 needed', '7 von 15 Scheiben gefunden, 10 nötig'],
  ['its middle 2.1 mm above its edges, at most 1.5 mm', 'Mitte 2,1 mm über den Rändern, höchstens 1,5 mm'],
  [
    'edges blurred by 4.2 px (155 um), at most 4 px and 150 um',
    'Kanten um 4,2 px (155 µm) unscharf, höchstens 4 px und 150 µm',
  ],
  ['white paper at 12 % of full scale, at least 20 %', 'weißes Papier bei 12 % des Bereichs, mindestens 20 %'],
  [
    "mirrored light is 0.31 of the paper's, at most 0.25",
    'gespiegeltes Licht 0,31 von dem des Papiers, höchstens 0,25',
  ],
  ['fitted growth at 1.60 s is 12.1 um, u = 2.8 um', 'Wachstum nach dem Verlauf bei 1,60 s: 12,1 µm, u = 2,8 µm'],
  [
    'growth changes by -3.2 um from the lowest to the highest rung, u = 1.1 um; more exposure cannot make parts smaller',
    'von der untersten zur obersten Sprosse ändert sich das Wachstum um -3,2 µm, u = 1,1 µm',
  ],
])('says in German what was found: %s', (english, german) => {
  expect(words.detailOf(english)).toBe(german)
})

it('repeats in English what it has no German for', () => {
  expect(words.detailOf('3 um that only a newer service names')).toBe('3 µm that only a newer service names')
})

it('has German for every source of an uncertainty that the analysis names', () => {
  const named = ['coupon/growth-budget', 'coupon/anchor-growth', 'combine/combine-growth'].flatMap((file) => {
    const code = readFileSync(`analysis/${file}.ts`, 'utf8')
    return [...code.matchAll(/(?:\bterm\(|\bshared\(|source:)\s*(['"])(.*?)\1/g)].map(([, , source]) => source!)
  })
  expect(named.length).toBeGreaterThan(10)
  expect(named.filter((source) => words.sourceOf(source) === source)).toEqual([])
})

it('says in German what a table was read as and which lines gave nothing', () => {
  const table = 'time (s);depth (mm)\n5;0.04\n7;broke\n8;0\n10;0.12\n20;0.2\n28;0.24\n40;0.3\n'
  const { columnsHold, skipped } = valueOf(answerWorkingCurve(table, { irradianceMwPerCm2: 2 }))
  const { columns, doses, depths, skippedWhy } = words.planTexts.curve
  expect(columns(doses[columnsHold.doses], depths[columnsHold.depths])).toBe(
    'Gelesen als Zeiten in s bei der angegebenen Bestrahlungsstärke, Tiefen in mm.',
  )
  expect(skipped.map(({ why }) => skippedWhy[why])).toEqual([
    'keine zwei Zahlen',
    'Dosis und Tiefe müssen über 0 liegen',
  ])
})

it('says in German what a setting comes to elsewhere, beside another, and whether it is signed', () => {
  const adapted: Adapted = { threeRungsS: [1.6, 2, 2.5], inWords: 'Without' }
  expect(words.adaptedOf(adapted)).toContain('1,6; 2; 2,5 s drucken')
  const beside: SideBySide = { rows: [], verdict: 'apart', exposureRatio: 1.25, inWords: 'The second' }
  expect(words.besideOf(beside)).toMatch(/^Die zweite belichtet 25 % länger; ihre 95-%-Bereiche liegen auseinander/)
  expect([
    words.sheetNameOf('Usable range'),
    words.sheetValueOf('Usable range', '1.8 to 2.6 s for growth within 20 µm per side'),
  ]).toEqual(['Brauchbarer Bereich', '1,8 bis 2,6 s für Wachstum innerhalb 20 µm je Seite'])
  expect(words.sheetValueOf('Note', 'for you and me')).toBe('for you and me')
  expect(words.verifiedOf({ state: 'changed', inWords: 'Changed' })).toBe(
    'Nach dem Signieren geändert: nicht verwenden.',
  )
})

it('says in German how sure a sheet is, why its exposure was chosen and what was measured', async () => {
  const reading = await measureLadder(readFileSync('samples/demo-ladder.jpg'))
  if ('refusal' in reading) throw new Error('the demo photograph was refused')
  const setting = { exposureS: 2.7, layerHeightUm: 50, origin: 'own' } as const
  const inGerman = (from: Pick<SheetSource, 'reading'>) =>
    Object.fromEntries(
      sheetWords(composeSheet({ setting, madeOn: '2026-02-12', ...from })).facts.map(([name, value]) => [
        name,
        words.sheetValueOf(name, value),
      ]),
    )
  const measured = inGerman({ reading })
  expect(measured['How sure']).toMatch(
    /^Mit 95 % Sicherheit liegt die Maßbelichtung im Bereich 2,\d+ bis 3,\d+ s, nach 6 Sprossen, .+ Kamera\. Kein Messschieber/,
  )
  expect(measured['Measured']).toMatch(/^Ein Foto einer Leiter von 6 Prüflingen, davon 6 gelesen/)
  expect(inGerman({})['Measured']).toMatch(/^Von Hand eingegeben/)

  const rules = [...readFileSync('analysis/dose/choose-exposure.ts', 'utf8').matchAll(/rule: '(.*?)'/g)]
  expect(rules.length).toBe(4)
  for (const [, rule = ''] of rules) expect(words.sheetValueOf('Chosen because', rule)).not.toBe(rule)
})

it('writes numbers with a comma, parts lists of them by semicolons, and reads both marks', () => {
  expect(words.formatNumber(-1.25, 1)).toBe('−1,3')
  expect(words.formatShort(0.0503)).toBe('0,0503')
  expect(words.formatExposures([1.5, 2])).toBe('1,5; 2')
  expect(words.inMarks('0.05 mm, 2.5 s')).toBe('0,05 mm, 2,5 s')
  expect(['2,5', '2.5', ' −0,5 ', '1.000,5', 'viel', ''].map(words.plainNumber)).toEqual([
    '2.5',
    '2.5',
    '-0.5',
    '',
    '',
    '',
  ])
  expect(words.listOfNumbers('0 1,5 2.5; 3, 4')).toEqual([0, 1.5, 2.5, 3, 4])
})
