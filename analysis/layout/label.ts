/** Three cells wide, five high; no two cells touch at a corner only, so that a raised glyph stays a manifold solid. */
const GLYPHS: Readonly<Record<string, readonly string[]>> = {
  '0': ['###', '#.#', '#.#', '#.#', '###'],
  '1': ['.#.', '.#.', '.#.', '.#.', '.#.'],
  '2': ['###', '..#', '###', '#..', '###'],
  '3': ['###', '..#', '###', '..#', '###'],
  '4': ['#.#', '#.#', '###', '..#', '..#'],
  '5': ['###', '#..', '###', '..#', '###'],
  '6': ['###', '#..', '###', '#.#', '###'],
  '7': ['###', '..#', '..#', '..#', '..#'],
  '8': ['###', '#.#', '###', '#.#', '###'],
  '9': ['###', '#.#', '###', '..#', '###'],
  '.': ['.', '.', '.', '.', '#'],
}

/**
 * Raised text as boxes on the outer face of a leg, written along the build direction.
 *
 * @param text digits and points
 * @param place lower left corner (y along the text, z up the glyph) and the edge of one cell, mm
 * @returns boxes in mm that meet at faces only: rows of cells are merged, none overlap
 * @throws {RangeError} for a character that has no glyph
 */
export function labelBoxesMm(
  text: string,
  place: { y0Mm: number; z0Mm: number; cellMm: number },
): { y0: number; y1: number; z0: number; z1: number }[] {
  const { y0Mm, z0Mm, cellMm } = place
  const boxes = []
  let column = 0
  for (const character of text) {
    const glyph = GLYPHS[character]
    if (!glyph) throw new RangeError(`labelBoxesMm needs digits and points, got ${JSON.stringify(character)}`)
    for (const [row, cells] of glyph.entries())
      for (const run of cells.matchAll(/#+/g)) {
        const from = column + run.index
        boxes.push({
          y0: y0Mm + from * cellMm,
          y1: y0Mm + (from + run[0].length) * cellMm,
          z0: z0Mm + (glyph.length - 1 - row) * cellMm,
          z1: z0Mm + (glyph.length - row) * cellMm,
        })
      }
    column += (glyph[0]?.length ?? 0) + 1
  }
  return boxes
}
