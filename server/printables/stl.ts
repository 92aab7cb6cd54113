import type { Mesh } from './coupon-mesh.js'

const HEADER_BYTES = 80
const FACET_BYTES = 50

type Vector = readonly [number, number, number]

const difference = ([ax, ay, az]: Vector, [bx, by, bz]: Vector): Vector => [ax - bx, ay - by, az - bz]

/** Unit vector that points at a viewer who sees a, b, c counter-clockwise. */
function normal(a: Vector, b: Vector, c: Vector): Vector {
  const [ux, uy, uz] = difference(b, a)
  const [vx, vy, vz] = difference(c, a)
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}

/**
 * Binary STL: header, number of facets, then a facet's normal and three corners as 32-bit floats.
 * The format knows no unit; slicers take its numbers as mm.
 */
export function stl({ vertices, triangles }: Mesh, name: string): Uint8Array {
  const facets = triangles.length / 3
  const bytes = new Uint8Array(HEADER_BYTES + 4 + facets * FACET_BYTES)
  bytes.set(new TextEncoder().encode(name).subarray(0, HEADER_BYTES))
  const view = new DataView(bytes.buffer)
  view.setUint32(HEADER_BYTES, facets, true)

  const place = (corner = NaN): Vector => {
    const [x = NaN, y = NaN, z = NaN] = vertices.subarray(3 * corner, 3 * corner + 3)
    return [x, y, z]
  }
  for (let facet = 0; facet < facets; facet++) {
    const [a, b, c] = triangles.subarray(3 * facet, 3 * facet + 3)
    const corners = [place(a), place(b), place(c)] as const
    const start = HEADER_BYTES + 4 + facet * FACET_BYTES
    const numbers = [normal(...corners), ...corners].flat()
    numbers.forEach((number, i) => view.setFloat32(start + 4 * i, number, true))
  }
  return bytes
}
