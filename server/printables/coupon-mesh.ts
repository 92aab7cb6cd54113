import loadManifold, { type Manifold, type Vec3 } from 'manifold-3d'
import type { LadderLayout } from '../../analysis/index.js'

/** Triangle mesh in mm, corners counter-clockwise seen from outside. */
export interface Mesh {
  /** x, y, z of one corner after the other. */
  readonly vertices: Float32Array
  /** Three indices of corners a triangle. */
  readonly triangles: Uint32Array
}

let loading: ReturnType<typeof loadManifold> | undefined

/** The geometry kernel, compiled once. */
async function kernel() {
  loading ??= loadManifold().then((loaded) => {
    loaded.setup()
    return loaded
  })
  return loading
}

/** Quarter turn about x: the build direction, +y as the coupon lies, becomes up. A rotation, so nothing is mirrored. */
const STAND_UP_DEGREES: Vec3 = [90, 0, 0]

/**
 * The coupon of one rung as it stands in the printer: on its lower edge at z = 0, the inked face in front at y = 0,
 * x as on the card.
 *
 * @throws {RangeError} if the ladder has no such slot
 */
export async function couponMesh({ coupon, labels }: LadderLayout, slot: number): Promise<Mesh> {
  const label = labels.find((one) => one.slot === slot)
  if (!label) throw new RangeError(`couponMesh needs a slot from 1 to ${labels.length}, got ${slot}`)

  const { Manifold } = await kernel()
  const made: Manifold[] = [] // the kernel's memory is not collected: each of these must be given back
  const keep = (solid: Manifold) => {
    made.push(solid)
    return solid
  }
  const prisms = (cut: boolean) =>
    coupon.prisms
      .filter(({ kind }) => (kind === 'void') === cut)
      .map(({ polygon, z0, z1 }) => keep(keep(Manifold.extrude([polygon], z1 - z0)).translate(0, 0, z0)))
  const { x0Mm, heightMm } = coupon.labelPlane
  const raised = label.boxesMm.map(({ y0, y1, z0, z1 }) =>
    keep(keep(Manifold.cube([heightMm, y1 - y0, z1 - z0])).translate(x0Mm, y0, z0)),
  )
  try {
    const body = keep(Manifold.union([...prisms(false), ...raised]))
    const cut = keep(body.subtract(keep(Manifold.union(prisms(true)))))
    const standing = keep(keep(cut.rotate(STAND_UP_DEGREES)).translate(0, coupon.faceZMm, 0))
    const { vertProperties, triVerts } = standing.getMesh()
    return { vertices: vertProperties, triangles: triVerts }
  } finally {
    for (const solid of made) solid.delete()
  }
}
