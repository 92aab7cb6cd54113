import { expect, it } from 'vitest'
import { overlaySvg } from '../../server/pictures/overlay-svg.js'
import { answered, photoPx, windowDetail } from '../support/reading-fixture.js'

it('outlines what lies in a window, at its place', () => {
  const size = { width: photoPx.widthPx, height: photoPx.heightPx }
  const [first, ...others] = answered.rungs
  if (!first || !('growthUm' in first)) throw new Error('the first rung is not read')
  const marked = overlaySvg({ ...answered, rungs: [{ ...first, window: windowDetail }, ...others] }, size)
  const [column, row] = windowDetail.defects[0]!.outlinePx[0]!
  const corner = `M${(column + 0.5).toFixed(1)} ${(row + 0.5).toFixed(1)}L`
  expect(marked).toContain(corner)
  expect(overlaySvg(answered, size)).not.toContain(corner)
})
