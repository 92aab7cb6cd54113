/** A rendered page or picture, one pixel a dot. */
export interface Dots {
  readonly width: number
  readonly height: number
  /** 0 for paper, 255 for black; column and row from the upper left. */
  darkness(column: number, row: number): number
}

/** Columns from x0 up to, not including, x1; rows likewise from y0 to y1. */
export interface DotArea {
  x0: number
  y0: number
  x1: number
  y1: number
}

/** Stretches of `darkness(i)` at least half dark, as [first, after the last]. */
export function darkRuns(darkness: (i: number) => number, from: number, to: number): [number, number][] {
  const runs: [number, number][] = []
  for (let i = from; i < to; i++) {
    if (darkness(i) < 128) continue
    const last = runs.at(-1)
    if (last?.[1] === i) last[1] = i + 1
    else runs.push([i, i + 1])
  }
  return runs
}

/** Centre of gravity of the ink in an area; the first dot reaches from 0 to 1. */
export function inkCentre(dots: Dots, { x0, y0, x1, y1 }: DotArea): { x: number; y: number } {
  let [sum, x, y] = [0, 0, 0]
  for (let row = y0; row < y1; row++)
    for (let column = x0; column < x1; column++) {
      const ink = dots.darkness(column, row)
      sum += ink
      x += ink * (column + 0.5)
      y += ink * (row + 0.5)
    }
  return { x: x / sum, y: y / sum }
}

/** The four strips inside an area, along its edges. */
export function rim({ x0, y0, x1, y1 }: DotArea, width: number): DotArea[] {
  return [
    { x0, y0, x1, y1: y0 + width },
    { x0, y0: y1 - width, x1, y1 },
    { x0, y0, x1: x0 + width, y1 },
    { x0: x1 - width, y0, x1, y1 },
  ]
}

/** How many dots of an area carry any ink. */
export function inkedDots(dots: Dots, { x0, y0, x1, y1 }: DotArea): number {
  let count = 0
  for (let row = y0; row < y1; row++)
    for (let column = x0; column < x1; column++) if (dots.darkness(column, row) > 0) count++
  return count
}

/** How many dots inside the areas are not black, and how many right beside them are not white. */
export function misprints(dots: Dots, areas: readonly DotArea[]): { light: number; spilled: number } {
  let [light, spilled] = [0, 0]
  const black = new Set<number>() // where areas touch, the ink beside one is the other's
  for (const { x0, y0, x1, y1 } of areas)
    for (let row = y0; row < y1; row++)
      for (let column = x0; column < x1; column++) {
        black.add(row * dots.width + column)
        if (dots.darkness(column, row) < 255) light++
      }
  for (const { x0, y0, x1, y1 } of areas)
    for (let row = y0 - 1; row <= y1; row++)
      for (let column = x0 - 1; column <= x1; column++)
        if (dots.darkness(column, row) > 0 && !black.has(row * dots.width + column)) spilled++
  return { light, spilled }
}
