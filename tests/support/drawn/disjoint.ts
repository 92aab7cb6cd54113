import type { RectMm } from '../../../analysis/layout/schema.js'

const overlap = (a: RectMm, b: RectMm): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1

/** Groups of rectangles that overlap one another, directly or through others. */
function clusters(rects: readonly RectMm[]): RectMm[][] {
  const groups: RectMm[][] = []
  for (const rect of rects) {
    const joined = groups.filter((group) => group.some((other) => overlap(rect, other)))
    for (const group of joined) groups.splice(groups.indexOf(group), 1)
    groups.push([rect, ...joined.flat()])
  }
  return groups
}

/** Union of intervals, in order. */
function union(intervals: readonly [number, number][]): [number, number][] {
  const merged: [number, number][] = []
  for (const [from, to] of intervals.toSorted((a, b) => a[0] - b[0])) {
    const last = merged.at(-1)
    if (last && from <= last[1]) last[1] = Math.max(last[1], to)
    else merged.push([from, to])
  }
  return merged
}

/** One cluster cut into upright slabs at every left and right side; slabs with the same rows are one again. */
function cut(cluster: readonly RectMm[]): RectMm[] {
  const sides = [...new Set(cluster.flatMap(({ x0, x1 }) => [x0, x1]))].toSorted((a, b) => a - b)
  const pieces: RectMm[] = []
  let open: RectMm[] = []
  sides.slice(1).forEach((x1, i) => {
    const x0 = sides[i] as number
    const rows = union(cluster.flatMap((r): [number, number][] => (r.x0 <= x0 && x1 <= r.x1 ? [[r.y0, r.y1]] : [])))
    if (rows.length === open.length && rows.every(([y0, y1], k) => open[k]?.y0 === y0 && open[k].y1 === y1))
      for (const piece of open) piece.x1 = x1
    else {
      open = rows.map(([y0, y1]) => ({ x0, x1, y0, y1 }))
      pieces.push(...open)
    }
  })
  return pieces
}

/** Rectangles that cover what the given ones cover, each place once, so that their shares of a pixel add up. */
export function disjoint(rects: readonly RectMm[]): RectMm[] {
  return clusters(rects.filter(({ x0, y0, x1, y1 }) => x1 > x0 && y1 > y0)).flatMap((cluster) =>
    cluster.length === 1 ? cluster : cut(cluster),
  )
}
