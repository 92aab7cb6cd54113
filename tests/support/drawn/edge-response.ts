import erf from '@stdlib/math-base-special-erf'

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)
const distribution = (x: number): number => (1 + erf(x / Math.SQRT2)) / 2

/**
 * Light a square pixel receives from a half plane under a Gaussian blur, 0 to 1.
 *
 * The pixel seen along the edge's normal is a trapezium of half widths (c + s)/2 and |c - s|/2; its convolution with the
 * normal distribution is the second difference of that distribution's double integral. Exact for a straight edge.
 *
 * @param distancePx of the pixel's centre inside the edge
 * @param sigmaPx standard deviation of the blur
 * @param c and s: cosine and sine, not negative, of the angle between the edge's normal and the pixel's side
 */
export function edgeResponse(distancePx: number, sigmaPx: number, c: number, s: number): number {
  const once = (x: number): number => x * distribution(x / sigmaPx) + sigmaPx * density(x / sigmaPx)
  const twice = (x: number): number =>
    ((x * x + sigmaPx * sigmaPx) * distribution(x / sigmaPx) + x * sigmaPx * density(x / sigmaPx)) / 2
  const wide = Math.max(c, s)
  const narrow = Math.min(c, s)
  // The second difference of a narrow side loses its digits; there the trapezium is a box.
  if (narrow < 1e-3) return (once(distancePx + wide / 2) - once(distancePx - wide / 2)) / wide
  const outer = (wide + narrow) / 2
  const inner = (wide - narrow) / 2
  const {
    [0]: a,
    [1]: b,
    [2]: d,
    [3]: e,
  } = [outer, inner, -inner, -outer].map((x) => twice(distancePx + x)) as [number, number, number, number]
  return (a - b - d + e) / (wide * narrow)
}

const STEPS_PER_PX = 128

/** The edge response tabled over distance, for one blur and one direction of the edge. */
export interface EdgeTable {
  /** Beyond this distance the response is 0 or 1 to nine digits. */
  reachPx: number
  values: Float64Array
}

const tables = new Map<string, EdgeTable>()

/** Table for a blur rounded to 0.01 px and a direction rounded to a degree, neither of which moves an edge. */
export function edgeTable(sigmaPx: number, angle: number): EdgeTable {
  const sigma = Math.round(sigmaPx * 100) / 100
  const folded = Math.abs(Math.round((angle * 180) / Math.PI)) % 90
  const degrees = Math.min(folded, 90 - folded)
  const key = `${sigma} ${degrees}`
  const known = tables.get(key)
  if (known) return known
  const reachPx = Math.ceil(6 * sigma + 1)
  const radians = (degrees * Math.PI) / 180
  const values = Float64Array.from({ length: 2 * reachPx * STEPS_PER_PX + 2 }, (_, i) =>
    edgeResponse(i / STEPS_PER_PX - reachPx, sigma, Math.cos(radians), Math.sin(radians)),
  )
  const table = { reachPx, values }
  tables.set(key, table)
  return table
}

/** Response at a distance inside the edge, linear between entries 1/128 px apart. */
export function lookUp({ reachPx, values }: EdgeTable, distancePx: number): number {
  if (distancePx <= -reachPx) return 0
  if (distancePx >= reachPx) return 1
  const place = (distancePx + reachPx) * STEPS_PER_PX
  const step = Math.trunc(place)
  const low = values[step] as number
  return low + ((values[step + 1] as number) - low) * (place - step)
}

/** Normal distribution, tabled to 5 standard deviations. */
export function normalShare(deviations: number): number {
  return lookUp(normalTable, deviations)
}
const normalTable: EdgeTable = {
  reachPx: 5,
  values: Float64Array.from({ length: 10 * STEPS_PER_PX + 2 }, (_, i) => distribution(i / STEPS_PER_PX - 5)),
}
