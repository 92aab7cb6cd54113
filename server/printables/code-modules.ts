import type { LadderLayout } from '../../analysis/index.js'

/** The black of a card's code as rectangles in mm (origin at the card's centre, y up), one a run of modules in a row. */
export function codeModules({ rows, x0Mm, y1Mm, moduleMm }: LadderLayout['card']['code']) {
  return rows.flatMap((row, j) =>
    [...row.matchAll(/1+/g)].map((run) => ({
      x0: x0Mm + run.index * moduleMm,
      y0: y1Mm - (j + 1) * moduleMm,
      x1: x0Mm + (run.index + run[0].length) * moduleMm,
      y1: y1Mm - j * moduleMm,
    })),
  )
}
