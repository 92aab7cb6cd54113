import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { converter, differenceCiede2000 } from 'culori'
import { expect, it } from 'vitest'
import { colourOfResin, yellownessIndex } from '../../../analysis/window/yellowness.js'

// Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21, table 1: 34 pairs, given to four decimals.
const sharma = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../reference/ciede2000-sharma2005.json'), 'utf8'),
) as { pairs: number[][] }

it('takes colour differences from a library that gives the published pairs of CIEDE2000', () => {
  const difference = differenceCiede2000()
  expect(sharma.pairs.length).toBe(34)
  for (const [l1 = 0, a1 = 0, b1 = 0, l2 = 0, a2 = 0, b2 = 0, expected = 0] of sharma.pairs)
    expect(difference({ mode: 'lab65', l: l1, a: a1, b: b1 }, { mode: 'lab65', l: l2, a: a2, b: b2 })).toBeCloseTo(
      expected,
      4,
    )
})

// colour-science/colour, tests of XYZ_to_Lab, white xy (0.3127, 0.3290). The library's white is (0.3127, 0.3290) rounded
// to XYZ with five digits: 0.01.
it.each([
  [0.20654008, 0.12197225, 0.05136952, 41.52787529, 52.63858304, 26.92317922],
  [0.1422201, 0.23042768, 0.10495772, 55.11636304, -41.08791787, 30.91825778],
  [0.0781878, 0.06157201, 0.28099326, 29.8056552, 20.01830466, -48.34913874],
])('takes CIE Lab from a library that gives worked values: XYZ %d %d %d', (x, y, z, l, a, b) => {
  const lab = converter('lab65')({ mode: 'xyz65', x, y, z })
  for (const [found, expected] of [
    [lab.l, l],
    [lab.a, a],
    [lab.b, b],
  ] as const)
    expect(Math.abs(found - expected)).toBeLessThan(0.01)
})

// ASTM E313 values for D65/2 from the tests of colour-science/colour, colorimetry/tests/test_yellowness.py.
it.each([
  [95, 100, 105, 4.34],
  [105, 100, 95, 28.66],
  [100, 100, 100, 16.5],
])('gives the yellowness index of ASTM E313 for XYZ %d %d %d', (x, y, z, expected) => {
  expect(yellownessIndex(x, y, z)).toBeCloseTo(expected, 2)
})

it('is zero for resin without colour, whatever grey it is', () => {
  const { perMm, deltaB, deltaYellownessIndex, deltaE2000 } = colourOfResin([-0.1, -0.1, -0.1], 0.01, {
    thicknessMm: 3,
    pathMm: 5,
    relativeUncertainty: 0.1,
  })
  for (const { value } of [perMm, deltaB, deltaYellownessIndex, deltaE2000]) expect(value).toBeCloseTo(0, 6)
})

it('says the same of one resin, however long the light ran in it', () => {
  const logs = (pathMm: number) => [-0.002 * pathMm, -0.004 * pathMm, -0.02 * pathMm] as const
  const options = { thicknessMm: 3, relativeUncertainty: 0.1 }
  const [short, long] = [3, 6].map((pathMm) => colourOfResin(logs(pathMm), 0.01, { ...options, pathMm }))
  expect(short!.perMm.value).toBeCloseTo(0.018, 9)
  expect(long!.deltaB.value).toBeCloseTo(short!.deltaB.value, 9)
  expect(long!.deltaYellownessIndex.value).toBeCloseTo(short!.deltaYellownessIndex.value, 9)
})
