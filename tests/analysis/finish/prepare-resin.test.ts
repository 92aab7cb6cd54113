import { expect, it } from 'vitest'
import { bubbleRiseMPerS, prepareResin, viscosityRatio } from '../../../analysis/finish/prepare-resin.js'

it.each([
  // Arrhenius with R = 8.314, worked in a second program (scipy): eta(25) and eta(20) over eta(30).
  [25, 15_000, 1.105],
  [25, 30_000, 1.2209],
  [25, 45_000, 1.3491],
  [25, 60_000, 1.4906],
  [20, 30_000, 1.5008],
  [20, 60_000, 2.2525],
])('is thicker at %f degrees than at 30 for %f J/mol, by %f', (atC, energy, ratio) => {
  // Printed to four decimals with R = 8.314462; 8.314 moves the last by 1.
  expect(Math.abs(viscosityRatio(atC, 30, energy) / ratio - 1)).toBeLessThan(2e-4)
})

it('lets a bubble rise as fast as the physics exercise says', () => {
  // https://www.sarthaks.com/1574412: r 0.1 mm, 1000 kg/m3, 3.5 mPa s, g 9.8: 6.2e-3 m/s.
  expect(bubbleRiseMPerS(200, 3.5, 1000)).toBeCloseTo(6.2e-3, 4)
})

it('tells how much thicker a cold room makes resin, and how much longer it must stand', () => {
  const cold = prepareResin({ resinC: 15, viscosityMPaS: 400 })
  const warm = prepareResin({ resinC: 27.5, viscosityMPaS: 400 })
  expect(cold.viscosityRatio[0]).toBeGreaterThan(1.5)
  expect(cold.standMin![1]).toBeGreaterThan(2 * warm.standMin![1])
  expect(cold.standWarmMin).toEqual(warm.standMin)
  expect(warm.viscosityRatio).toEqual([1, 1])
  expect(cold.warnings.map(({ code }) => code)).toEqual(['resin-cold'])
  expect(prepareResin({ resinC: 40 }).warnings.map(({ code }) => code)).toEqual(['resin-hot'])
  expect(prepareResin({ resinC: 25 })).toMatchObject({ warnings: [], standMin: undefined })
})

it('takes the window of the data sheet, and names what it took unasked', () => {
  const window = prepareResin({ resinC: 31, windowC: [22, 30] })
  expect(window).toMatchObject({ bestC: 26, warnings: [{ code: 'resin-hot' }] })
  expect(window.assumed.map(({ what }) => what)).toEqual(['flowKJPerMol'])
  const standing = prepareResin({ resinC: 25, viscosityMPaS: 400 })
  expect(standing.assumed.map(({ what }) => what)).toEqual([
    ...['flowKJPerMol', 'viscosityAtC', 'bubbleUm', 'densityKgPerM3'],
  ])
})
