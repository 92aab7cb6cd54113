import { median } from 'simple-statistics'
import { lightAt, type LightField } from '../image/light-field.js'
import type { FoundDisc } from './find-discs.js'

/** Rings of paper round a disc, in its radii: beyond the reach of blur and ordinary sharpening, and farther out. */
const NEAR = [1.25, 1.45] as const
const FAR = [1.75, 1.95] as const
/** Pixels from one that is looked at to the next. */
const STEP = 4

/**
 * How much lighter the paper is close round the black discs than farther out, share of its light.
 *
 * Light falls off straight across a disc, and both rings share its centre, so that an honest picture gives nothing.
 * Tone mapping that follows the surroundings lifts the paper beside dark things.
 */
export function discHalo(light: LightField, discs: readonly FoundDisc[]): number {
  const found = discs.flatMap((disc) => {
    const [near, far] = [ringLight(light, disc, NEAR), ringLight(light, disc, FAR)]
    return near === undefined || far === undefined ? [] : [near / far - 1]
  })
  return found.length > 0 ? median(found) : 0
}

/** Median light in a ring; undefined when the frame cuts it. */
function ringLight(
  light: LightField,
  { px: [cx, cy], radiusPx }: FoundDisc,
  [inner, outer]: readonly [number, number],
): number | undefined {
  const [from, to] = [inner * radiusPx, outer * radiusPx]
  const { width, height } = light.photo
  if (cx - to < 0 || cy - to < 0 || cx + to > width - 1 || cy + to > height - 1) return undefined
  const values: number[] = []
  for (let row = Math.ceil(cy - to); row <= cy + to; row += STEP)
    for (let column = Math.ceil(cx - to); column <= cx + to; column += STEP) {
      const squared = (column - cx) ** 2 + (row - cy) ** 2
      if (squared >= from * from && squared <= to * to) values.push(lightAt(light, column, row))
    }
  return median(values)
}
