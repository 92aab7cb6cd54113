import { expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/layout/ladder-layout.js'
import type { RegionMm } from '../../../analysis/image/region.js'
import { cutToSeen, planTarget } from '../../../analysis/window/target-cells.js'

const { card } = ladderLayout({ ladderId: 'M4T7QA', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3] })
const target = card.slots[0]!.windowTarget
const plan = planTarget(target)
const { fine, medium, across } = plan.barsMm
/** A window that ends at these sides. */
const within =
  (side: Partial<RegionMm>) =>
  ({ x0, x1, y0, y1 }: RegionMm) =>
    x0 >= (side.x0 ?? -9) && x1 <= (side.x1 ?? 99) && y0 >= (side.y0 ?? -9) && y1 <= (side.y1 ?? 99)

it('leaves a target that is seen whole as it is', () => {
  expect(cutToSeen(plan, target, within({}))).toBe(plan)
})

it('cuts bars along the build to the rows that are seen, and what is compared of them with them', () => {
  const cut = cutToSeen(plan, target, within({ y1: fine.y1 - 0.4 }))
  expect(cut?.barsMm.fine.y1).toBeCloseTo(fine.y1 - 0.6, 5)
  expect(cut?.barsMm.fine.x0).toBeCloseTo(fine.x0, 5)
  expect(cut?.barsMm.medium.y1).toBeCloseTo(medium.y1 - 0.6, 5)
  expect(cut?.barsMm.across.y1).toBeCloseTo(across.y1, 5)
  expect(cut?.cells.find(({ group }) => group === 'fine')?.areaMm).toEqual(cut?.barsMm.fine)
  expect(cut?.cells.length).toBe(plan.cells.length)
})

it('cuts them to whole periods where a side is hidden', () => {
  const cut = cutToSeen(plan, target, within({ x0: fine.x0 + 0.1 }))
  const periods = ((cut?.barsMm.fine.x1 ?? NaN) - (cut?.barsMm.fine.x0 ?? NaN)) / target.fine.pitchMm
  expect(cut?.barsMm.fine.x0).toBeCloseTo(fine.x0 + target.fine.pitchMm, 5)
  expect(periods).toBeCloseTo(Math.round(periods), 5)
  expect(cut?.barsMm.medium.x0).toBeCloseTo(medium.x0, 5)
})

it('gives up when less than half of a group is seen', () => {
  expect(cutToSeen(plan, target, within({ y1: (fine.y0 + fine.y1) / 2 - 0.1 }))).toBeUndefined()
  // Bars across the build cannot lose rows: there are one and a half periods of them.
  expect(cutToSeen(plan, target, within({ y0: across.y0 + 0.1 }))).toBeUndefined()
})
