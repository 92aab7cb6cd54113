import { beforeAll, describe, expect, it } from 'vitest'
import type { WindowDefect } from '../../../analysis/result.js'
import type { WindowDefects } from '../../../analysis/window/find-defects.js'
import { readScene, sceneNames } from '../../support/window-crops.js'

type Mm = readonly [x: number, y: number]
/** Multiplies code values by `factor(x, y)` within 3 mm of a place; x, y in mm from it. */
interface Drawn {
  kind: WindowDefect['kind']
  /** From the lower left corner of the window's white patch. */
  at: Mm
  areaMm2: number
  factor: (x: number, y: number) => number
}

const radius = (x: number, y: number) => Math.hypot(x, y)
/** By slot; code values, so that 0.7 is about half of the light. */
const drawn: Record<number, Drawn> = {
  2: {
    kind: 'bubble',
    at: [1, 1.5],
    areaMm2: Math.PI * 0.4 ** 2,
    factor: (x, y) => (radius(x, y) > 0.4 ? 1 : radius(x, y) < 0.16 ? 1.2 : 0.7),
  },
  3: {
    kind: 'dust',
    at: [1, 1.5],
    areaMm2: Math.PI * 0.3 ** 2,
    factor: (x, y) => (radius(x, y) > 0.3 ? 1 : 0.6),
  },
  4: {
    kind: 'scratch',
    at: [1, 1.5],
    areaMm2: 2.4 * 0.2,
    factor: (x, y) => (Math.abs(0.5 * x + 0.866 * y) > 1.2 || Math.abs(0.866 * x - 0.5 * y) > 0.1 ? 1 : 0.7),
  },
  // Below bars and patches: closer to their ends it is not told from their streaks.
  5: {
    kind: 'layer-band',
    at: [1, -0.45],
    areaMm2: 5 * 0.2,
    factor: (x, y) => (Math.abs(x) > 2.5 || Math.abs(y) > 0.1 ? 1 : 0.75),
  },
}

const clean: { where: string; found: WindowDefects }[] = []
const painted = new Map<number, WindowDefects>()
const centrePx = new Map<number, readonly [number, number]>()
beforeAll(async () => {
  for (const scene of sceneNames)
    for (const { truth, reading } of await readScene(scene))
      if (reading.ok) clean.push({ where: `${scene} ${truth.slot}`, found: reading.value.found })
  const windows = await readScene('haze', ({ rgb, width }, toPx, slots) => {
    for (const [slot, { at, factor }] of Object.entries(drawn)) {
      const { whiteMm } = slots[Number(slot) - 1]!.windowTarget
      const [x0, y0] = [whiteMm.x0 + at[0], whiteMm.y0 + at[1]]
      const middle = toPx(x0, y0)
      centrePx.set(Number(slot), middle)
      // Straight below the camera the card is turned little: a step of a mm each way gives its axes.
      const [right, up] = [toPx(x0 + 1, y0), toPx(x0, y0 + 1)]
      const [ax, ay, bx, by] = [right[0] - middle[0], right[1] - middle[1], up[0] - middle[0], up[1] - middle[1]]
      const reach = Math.ceil(3 * Math.hypot(ax, ay))
      for (let row = Math.round(middle[1]) - reach; row <= middle[1] + reach; row++)
        for (let column = Math.round(middle[0]) - reach; column <= middle[0] + reach; column++) {
          const [dc, dr] = [column - middle[0], row - middle[1]]
          const determinant = ax * by - ay * bx
          const times = factor((dc * by - dr * bx) / determinant, (dr * ax - dc * ay) / determinant)
          for (let k = 3 * (row * width + column), end = k + 3; k < end; k++) rgb[k] = Math.min(255, rgb[k]! * times)
        }
    }
  })
  for (const { truth, reading } of windows) if (reading.ok) painted.set(truth.slot, reading.value.found)
}, 120_000)

// Simulated: path-traced crops of single windows (samples/windows), as they are and with spots and lines painted in.
describe('defects of a window', () => {
  it('are none, or one at most, in a window without any', () => {
    expect(clean.length).toBeGreaterThanOrEqual(20)
    for (const { where, found } of clean) expect(found.defects.length, where).toBeLessThanOrEqual(1)
    const alarms = clean.reduce((sum, { found }) => sum + found.defects.length, 0)
    expect(alarms / clean.length).toBeLessThan(0.2)
  })

  it.each(Object.entries(drawn))(
    'painted into the window of slot %s are found as what they are',
    (slot, { kind, areaMm2 }) => {
      const { defects, coveredShare, examinedMm2 } = painted.get(Number(slot))!
      expect(defects.map((defect) => defect.kind)).toEqual([kind])
      const [found] = defects
      // Noise of 16 % a pixel frays the outline, cells of 0.08 mm widen it.
      expect(found!.areaMm2 / areaMm2).toBeGreaterThan(0.6)
      expect(found!.areaMm2 / areaMm2).toBeLessThan(1.6)
      expect(coveredShare * examinedMm2).toBeCloseTo(found!.areaMm2, 6)
      const [column, row] = [0, 1].map(
        (k) => found!.outlinePx.reduce((sum, p) => sum + p[k]!, 0) / found!.outlinePx.length,
      )
      const at = centrePx.get(Number(slot))!
      // 27 px a mm.
      expect(Math.hypot(column! - at[0], row! - at[1])).toBeLessThan(kind === 'layer-band' ? 10 : 4)
    },
  )

  it('are called dark where they stop light', () => {
    expect(painted.get(3)!.defects[0]!.depth).toBeLessThan(-0.3)
  })
})
