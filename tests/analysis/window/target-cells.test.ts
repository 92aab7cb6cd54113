import { expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/layout/ladder-layout.js'
import type { RegionMm } from '../../../analysis/image/region.js'
import { cutToSeen, planTarget, shifted, targetCorner } from '../../../analysis/window/target-cells.js'

const design = { ladderId: 'M4T7QA', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3] }
const { card } = ladderLayout(design)
const target = card.slots[0]!.windowTarget
const plan = planTarget(target)
const { fine, medium, across } = plan.barsMm
/** A window that ends at these sides. */
const within =
  (side: Partial<RegionMm>) =>
  ({ x0, x1, y0, y1 }: RegionMm) =>
    x0 >= (side.x0 ?? -9) && x1 <= (side.x1 ?? 99) && y0 >= (side.y0 ?? -9) && y1 <= (side.y1 ?? 99)

it('compares white paper around the target alone, not the black that surrounds the black patch', () => {
  const [x, y] = targetCorner(target)
  const ground = shifted(target.blackGroundMm!, -x, -y)
  expect(plan.black.at(-1)?.y0).toBeCloseTo(ground.y0, 5)
  expect(plan.black.at(-1)?.x1).toBeCloseTo(ground.x1, 5)
  const near = plan.cells.filter(
    ({ group, areaMm }) =>
      group === 'border' &&
      areaMm.x0 < ground.x1 &&
      areaMm.x1 > ground.x0 &&
      areaMm.y0 < ground.y1 &&
      areaMm.y1 > ground.y0,
  )
  expect(near).toEqual([])
  const first = ladderLayout({ ...design, cardEdition: 1 }).card.slots[0]!.windowTarget
  expect(planTarget(first).cells.length).toBeGreaterThan(plan.cells.length)
})

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
