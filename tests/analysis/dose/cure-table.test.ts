import { expect, it } from 'vitest'
import { readCureTable } from '../../../analysis/dose/cure-table.js'
import { valueOf } from '../../support/outcomes.js'

const expected = [
  { doseMjPerCm2: 5.5, depthUm: 37 },
  { doseMjPerCm2: 10, depthUm: 118.2 },
]

it.each([
  ['tabs', '5.5\t37\n10\t118.2'],
  ['tabs and decimal commas, as a continental spreadsheet copies', 'Dosis\tTiefe\n5,5\t37\n10\t118,2\n'],
  ['commas', '5.5,37\n10,118.2'],
  ['semicolons and decimal commas', '5,5;37\r\n10;118,2\r\n'],
  ['spaces', '  5.5   37\n10 118.2'],
  ['spaces and decimal commas', '5,5 37\n10 118,2'],
  ['a header in any order', 'patch;depth um;dose mJ/cm2\na;37;5.5\nb;118.2;10'],
  ['millimetres', 'energy (mJ/cm²)\tCd (mm)\n5.5\t0.037\n10\t0.1182'],
  ['blank lines and a note below', '5.5\t37\n\n10\t118.2\n\t\n'],
])('reads cells parted by %s', (_, text) => {
  const { points, skipped } = valueOf(readCureTable(text))
  expect(points.map(({ doseMjPerCm2, depthUm }) => [doseMjPerCm2, Number(depthUm.toFixed(9))])).toEqual(
    expected.map(({ doseMjPerCm2, depthUm }) => [doseMjPerCm2, depthUm]),
  )
  expect(skipped).toEqual([])
})

it('turns times into doses with the irradiance, and asks for it otherwise', () => {
  const text = 'time (s),depth (um)\n2,37\n4,118'
  const table = valueOf(readCureTable(text, { irradianceMwPerCm2: 2.5 }))
  expect(table.points.map(({ doseMjPerCm2 }) => doseMjPerCm2)).toEqual([5, 10])
  expect(table.columns).toBe('times in s at 2.5 mW/cm2, depths in um')
  expect(readCureTable(text)).toMatchObject({ ok: false, refusal: { code: 'irradiance-needed' } })
})

it('says which lines it could not use', () => {
  const { points, lines, skipped } = valueOf(readCureTable('5.5\t37\n7\tbroke\n8\t0\n10\t118.2'))
  expect(points).toEqual(expected)
  expect(lines).toEqual([1, 4])
  expect(skipped).toMatchObject([
    { line: 2, why: 'no-numbers', inWords: 'no two numbers' },
    { line: 3, why: 'not-positive', inWords: 'dose and depth must be above 0' },
  ])
})

it('does not guess which comma is a decimal sign', () => {
  expect(readCureTable('5,5,37\n10,0,118,2')).toMatchObject({ ok: false, refusal: { code: 'no-numbers' } })
})

it('refuses text without numbers', () => {
  expect(readCureTable('nothing here')).toMatchObject({ ok: false, refusal: { code: 'no-numbers' } })
  expect(readCureTable('')).toMatchObject({ ok: false, refusal: { code: 'no-numbers' } })
})
