import type { RegionMm } from '../image/region.js'
import type { BarTarget } from '../layout/schema.js'
import type { Cell, TargetPlan } from './target-cells.js'

/** 1, x, y, x^2, y^2, x y of a cell's middle, in sizes of the target from its centre; the squares less their mean. */
export function lightTerms({ x0, x1, y0, y1 }: RegionMm, { sizeMm }: TargetPlan): readonly number[] {
  const x = (x0 + x1) / 2 / sizeMm.x - 0.5
  const y = (y0 + y1) / 2 / sizeMm.y - 0.5
  return [1, x, y, x * x - 1 / 12, y * y - 1 / 12, x * y]
}

/** The light that coefficients of `lightTerms` give at a place, x and y in sizes of the target from its centre. */
export const lightAtPlace = (x: number, y: number, p: readonly number[]): number =>
  p[0]! + p[1]! * x + p[2]! * y + p[3]! * (x * x - 1 / 12) + p[4]! * (y * y - 1 / 12) + p[5]! * x * y

export const CELL_MODEL = {
  /** What printed paper, its texture and a smooth light leave of a cell's level, share of white; path-traced targets leave 0.3 %. */
  floor: 0.003,
  /** Black share of a cell, ink spread included. */
  coverage(group: Cell['group'], target: BarTarget, inkGainMm: number): number {
    if (group === 'black') return 1
    if (group === 'fine' || group === 'medium') return 0.5 + (2 * inkGainMm) / target[group].pitchMm
    return 0
  },
} as const
