import { expect, it } from 'vitest'
import { findDoseToSize } from '../../../analysis/dose/dose-to-size.js'
import { fitGrowth } from '../../../analysis/dose/growth-fit.js'
import { findOutlyingRungs } from '../../../analysis/dose/outlying-rungs.js'
import { makeRungs } from '../../support/ladders.js'
import { valueOf } from '../../support/outcomes.js'

const EXPOSURES = [1.6, 1.9, 2.3, 2.7, 3.3, 3.9]
const ladder = (offUm: number) =>
  makeRungs(
    EXPOSURES.map((e, i) => [e, 35 * Math.log(e / 2.4) + [0.3, -0.5, 0.2, 0.4, -0.6, 0.2][i]! + (i === 3 ? offUm : 0)]),
    1,
  )

it('points at the rung that the others contradict, and gives dose-to-size without it', () => {
  const fit = valueOf(fitGrowth(ladder(12)))
  const [found, ...more] = findOutlyingRungs(fit)
  expect(more).toEqual([])
  expect(found!.rung.exposureS).toBe(2.7)
  // 12.4 um above the line, of which the others know where it is to within 0.6 um.
  expect(Math.abs(found!.offUm - 12.4)).toBeLessThan(1.5)
  expect(found!.studentised).toBeGreaterThan(found!.limit)
  expect(found!.studentised).toBeLessThan(8)
  const without = valueOf(fitGrowth(ladder(12).filter(({ exposureS }) => exposureS !== 2.7)))
  expect(found!.doseToSizeWithout).toEqual(valueOf(findDoseToSize(without)))
  expect(Math.abs(found!.doseToSizeWithout!.exposureS / 2.4 - 1)).toBeLessThan(0.02)
})

it('points at none where the rungs agree within their uncertainties', () => {
  expect(findOutlyingRungs(valueOf(fitGrowth(ladder(0))))).toEqual([])
})

it('points at none of three, which contradict each other alike', () => {
  const three = makeRungs([
    [2, -8],
    [2.5, 30],
    [3, 8],
  ])
  expect(findOutlyingRungs(valueOf(fitGrowth(three)))).toEqual([])
})
