import { expect, it } from 'vitest'
import { formatExpanded, formatNumber, formatRange, sentence, codeTitle, toWidthOf } from '../../web/format.js'
import { parseExposures } from '../../web/views/plan-form.js'
import { parseRoute, printAddress, readingAddress } from '../../web/route.js'

// JCGM 100:2008 (GUM) 7.2.6: an uncertainty is quoted to at most two significant digits, its value to the same decimals.
it.each([
  [{ value: -4.93, standardUncertainty: 4.2 }, '−4.9 ± 8.4'],
  [{ value: 413.9, standardUncertainty: 14 }, '414 ± 28'],
  [{ value: 0.0738, standardUncertainty: 0.006 }, '0.074 ± 0.012'],
  [{ value: -0.04, standardUncertainty: 0.6 }, '0.0 ± 1.2'],
] as const)('rounds %o by its expanded uncertainty', (measured, text) => {
  expect(formatExpanded(measured).replaceAll('\u00a0', ' ')).toBe(text)
})

it('writes a value and its interval to the two digits that half the interval bears', () => {
  expect([-0.1234, -0.23, -0.0094].map(toWidthOf([-0.23, -0.0094]))).toEqual(['−0.12', '−0.23', '−0.01'])
  expect([0.0545, 0.012, 0.097].map(toWidthOf([0.012, 0.097]))).toEqual(['0.054', '0.012', '0.097'])
})

it('writes a true minus sign and no negative zero', () => {
  expect(formatNumber(-1.25, 1)).toBe('−1.3')
  expect(formatNumber(-0.01, 1)).toBe('0.0')
})

it('writes ranges to three digits', () => {
  expect(formatRange([2.1649, 2.5551])).toBe('2.16 to 2.56')
})

it('makes a sentence of words that stand alone elsewhere', () => {
  expect(sentence('103 um less, drum layers bond weakly')).toBe('103 µm less, drum layers bond weakly.')
  expect(sentence('a tenfold range.')).toBe('A tenfold range.')
  expect(sentence('16 degrees C, -10 % off')).toBe('16\u00a0°C, −10\u00a0% off.')
})

it('makes a headline of a reason', () => {
  expect(codeTitle('card-cropped')).toBe('Card cropped')
})

it.each([
  ['1.4 1.7 2.1', [1.4, 1.7, 2.1]],
  ['1.4, 1.7, 2.1', [1.4, 1.7, 2.1]],
  ['1,4 1,7', [1.4, 1.7]],
  ['1.4;1.7', [1.4, 1.7]],
  ['', undefined],
  ['1.4 much', undefined],
  ['0 1', undefined],
  ['1 2 3 4 5 6 7 8 9', undefined],
])('reads the exposures typed as "%s"', (text, exposures) => {
  expect(parseExposures(text)).toEqual(exposures)
})

it('finds its way back from every address it makes', () => {
  expect(parseRoute(readingAddress('a b/c'))).toEqual({ view: 'reading', id: 'a b/c' })
  const route = parseRoute(printAddress({ layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.2, 1.5] }))
  if (route.view !== 'print') throw new Error(`expected the print form, got ${route.view}`)
  expect([...route.wish]).toEqual([
    ['layerHeightUm', '50'],
    ['pixelPitchUm', '34'],
    ['exposuresS', '1.2 1.5'],
  ])
  expect(parseRoute('')).toEqual({ view: 'start' })
})
