import { expect, it } from 'vitest'
import { inInches, inMil } from '../../web/units.js'

it('adds mil and inches only for whoever asked for them', () => {
  // 25.4 um = 1 mil, 25.4 mm = 1 in, exact by definition.
  expect(inMil(25.4, 'both')).toBe(' (1.00\u00a0mil)')
  expect(inMil(-12.7, 'both')).toBe(' (\u22120.50\u00a0mil)')
  expect(inInches(50.8, 'both')).toBe(' (2\u00a0in)')
  expect(inMil(25.4, 'metric')).toBe('')
})
