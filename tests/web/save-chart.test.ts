import { expect, it } from 'vitest'
import { csvOf } from '../../web/charts/save-chart.js'

it('writes a table as a spreadsheet takes it', () => {
  // Quoting as in RFC 4180; what begins like a formula is made text (common practice against injection, no source).
  const table = {
    name: 'x',
    columns: ['a', 'b'],
    rows: [
      [1.5, 'two, "three"'],
      [undefined, '=1+1'],
      [-2, 'plain'],
    ],
  }
  expect(csvOf(table)).toBe('a,b\r\n1.5,"two, ""three"""\r\n,\'=1+1\r\n-2,plain\r\n')
})
