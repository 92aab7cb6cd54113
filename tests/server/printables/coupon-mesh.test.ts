import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { strFromU8, unzipSync } from 'fflate'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { ladderLayout, type LadderLayout } from '../../../analysis/index.js'
import { coupon3mf, couponStl } from '../../../server/printables/index.js'
import { missingTool, runTool } from '../../support/debian.js'

const layout = ladderLayout({
  ladderId: 'K7Q2XN',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1.6, 2, 2.5, 3.15],
})
const { coupon, labels } = layout
const SLOT = 2

// ADMesh (Debian: admesh) judges the mesh, Assimp (Debian: assimp-utils) reads 3MF.
const noChecker = missingTool('admesh', 'admesh')
const no3mfReader = missingTool('assimp', 'assimp-utils')

const folder = mkdtempSync(join(tmpdir(), 'stepglass-mesh-'))
afterAll(() => rmSync(folder, { recursive: true }))
const run = (command: string, ...args: string[]) => runTool(command, args, { cwd: folder }).toString()

interface Box {
  x: [number, number]
  y: [number, number]
  z: [number, number]
}
const boxOf = ({ polygon, z0, z1 }: LadderLayout['coupon']['prisms'][number]): Box => {
  const [xs, ys] = [polygon.map(([x]) => x), polygon.map(([, y]) => y)]
  return { x: [Math.min(...xs), Math.max(...xs)], y: [Math.min(...ys), Math.max(...ys)], z: [z0, z1] }
}

/**
 * Volume of boxes and cuts in mm^3, exact: every face is prolonged to a plane, and of the cells between these planes those
 * are added that lie in a box and in no cut.
 */
function volumeMm3(boxes: readonly Box[], cuts: readonly Box[]): number {
  const planes = (axis: 'x' | 'y' | 'z') =>
    [...new Set([...boxes, ...cuts].flatMap((box) => box[axis]))].sort((a, b) => a - b)
  const spans = (axis: 'x' | 'y' | 'z') =>
    planes(axis).flatMap((from, i, all) =>
      all[i + 1] === undefined ? [] : [{ middle: (from + all[i + 1]!) / 2, length: all[i + 1]! - from }],
    )
  const [xs, ys, zs] = [spans('x'), spans('y'), spans('z')]
  const within = ([from, to]: [number, number], place: number) => from < place && place < to
  let volume = 0
  for (const z of zs) {
    const across = (box: Box) => within(box.z, z.middle)
    const [solid, cut] = [boxes.filter(across), cuts.filter(across)]
    for (const y of ys) {
      const along = (box: Box) => within(box.y, y.middle)
      const [solidRow, cutRow] = [solid.filter(along), cut.filter(along)]
      for (const x of xs) {
        const here = (box: Box) => within(box.x, x.middle)
        if (solidRow.some(here) && !cutRow.some(here)) volume += x.length * y.length * z.length
      }
    }
  }
  return volume
}

function layoutVolumeMm3(slot: number): number {
  const { x0Mm, heightMm } = coupon.labelPlane
  const raised = labels[slot - 1]!.boxesMm.map(({ y0, y1, z0, z1 }): Box => ({
    x: [x0Mm, x0Mm + heightMm],
    y: [y0, y1],
    z: [z0, z1],
  }))
  const cut = (wanted: boolean) => coupon.prisms.filter(({ kind }) => (kind === 'void') === wanted).map(boxOf)
  return volumeMm3([...cut(false), ...raised], cut(true))
}

/** What ADMesh says of an STL file, and the facets it read. */
function inspect(file: string) {
  const report = run('admesh', file, '--write-ascii-stl=read.stl')
  const count = (name: string) => Number(new RegExp(`${name} *: *(-?[\\d.]+)`).exec(report)?.[1])
  const range = (axis: string) => {
    const [, from, to] = new RegExp(`Min ${axis} = *(-?[\\d.]+), Max ${axis} = *(-?[\\d.]+)`).exec(report) ?? []
    return [Number(from), Number(to)]
  }
  const numbers = [...readFileSync(join(folder, 'read.stl'), 'utf8').matchAll(/vertex +(\S+) +(\S+) +(\S+)/g)]
  const corners = numbers.map(([, x, y, z]) => [Number(x), Number(y), Number(z)] as const)
  return { report, count, range, corners }
}

const MENDED = [
  'Total disconnected facets',
  'Degenerate facets',
  'Edges fixed',
  'Facets removed',
  'Facets added',
  'Facets reversed',
  'Backwards edges',
]

it('holds no polygon that is not an upright rectangle, which the volume below supposes', () => {
  for (const prism of coupon.prisms) {
    const { x, y } = boxOf(prism)
    expect(prism.polygon).toEqual([
      [x[0], y[0]],
      [x[1], y[0]],
      [x[1], y[1]],
      [x[0], y[1]],
    ])
  }
})

describe('the STL of a rung', () => {
  let mesh: ReturnType<typeof inspect>
  beforeAll(async () => {
    if (noChecker) return
    writeFileSync(join(folder, 'rung.stl'), await couponStl(layout, SLOT))
    mesh = inspect('rung.stl')
  })
  beforeEach(({ skip }) => skip(noChecker !== undefined, noChecker))

  /** Where a ray along +y or -x through (a, z) first meets the mesh. */
  function firstHit(direction: '+y' | '-x', a: number, z: number): number {
    const [along, across] = direction === '+y' ? ([1, 0] as const) : ([0, 1] as const)
    const hits: number[] = []
    for (let i = 0; i < mesh.corners.length; i += 3) {
      const [p, q, r] = [mesh.corners[i]!, mesh.corners[i + 1]!, mesh.corners[i + 2]!]
      // Barycentric coordinates in the plane across the ray.
      const [dx1, dz1, dx2, dz2] = [q[across] - p[across], q[2] - p[2], r[across] - p[across], r[2] - p[2]]
      const area = dx1 * dz2 - dx2 * dz1
      const [u, v] = [
        ((a - p[across]) * dz2 - dx2 * (z - p[2])) / area,
        (dx1 * (z - p[2]) - (a - p[across]) * dz1) / area,
      ]
      if (area !== 0 && u >= 0 && v >= 0 && u + v <= 1)
        hits.push(p[along] + u * (q[along] - p[along]) + v * (r[along] - p[along]))
    }
    return direction === '+y' ? Math.min(...hits) : Math.max(...hits)
  }

  it('is one closed solid with nothing to mend', () => {
    for (const name of MENDED) expect([name, mesh.count(name)]).toEqual([name, 0])
    expect(mesh.count('Normals fixed')).toBe(0)
    expect(mesh.count('Number of parts')).toBe(1)
  })

  it('has the volume of the layout', () => {
    // ADMesh adds a thousand 32-bit products; coordinates carry 24 bits.
    expect(Math.abs(mesh.count('Volume') / layoutVolumeMm3(SLOT) - 1)).toBeLessThan(1e-5)
  })

  it('stands on its lower edge, the build direction up', () => {
    const { x, y, z } = coupon.sizeMm
    // ADMesh prints 32-bit coordinates.
    for (const [axis, size] of [
      ['X', x + coupon.labelPlane.heightMm],
      ['Y', z],
      ['Z', y],
    ] as const) {
      expect(mesh.range(axis)[0]).toBeCloseTo(0, 5)
      expect(mesh.range(axis)[1]).toBeCloseTo(size, 5)
    }
    const earlier = Math.min(...coupon.gaps.map(({ y0Mm }) => y0Mm))
    const firstGap = coupon.gaps.find(({ y0Mm }) => y0Mm === earlier)!
    const middle = (firstGap.x0Mm + firstGap.x1Mm) / 2
    expect(firstHit('+y', middle, earlier + 0.05)).toBeCloseTo(coupon.grooveDepthMm, 5)
    expect(firstHit('+y', middle, earlier - 0.05)).toBeCloseTo(0, 5)
  })

  it('shows its key upper left, left of the window, seen from the inked face', () => {
    const x = (coupon.key.x0Mm + coupon.key.x1Mm) / 2
    const z = (coupon.key.y0Mm + coupon.key.y1Mm) / 2
    expect(x).toBeLessThan(coupon.window.x0Mm)
    // Looking along +y with z up, x runs to the right.
    expect(firstHit('+y', x, z)).toBeCloseTo(coupon.grooveDepthMm, 5)
    for (const [elsewhereX, elsewhereZ] of [
      [coupon.sizeMm.x - x, z],
      [x, coupon.sizeMm.y - z],
      [coupon.sizeMm.x - x, coupon.sizeMm.y - z],
    ] as const)
      expect(firstHit('+y', elsewhereX, elsewhereZ)).toBeCloseTo(0, 5)
  })

  it('is a plate of 3 mm between its legs', () => {
    expect(coupon.faceZMm - coupon.plateZ0Mm).toBeCloseTo(3, 9)
    const between = mesh.corners.filter(([x]) => x > coupon.caliperMm + 1e-4 && x < coupon.window.x1Mm)
    expect(Math.max(...between.map(([, y]) => y))).toBeLessThan(3 + 1e-5)
    expect(Math.max(...mesh.corners.map(([, y]) => y))).toBeCloseTo(coupon.faceZMm, 5)
  })

  it('shows its number raised on the right end, read upwards from outside', () => {
    const number = labels[SLOT - 1]!.boxesMm.filter(({ z0 }) => z0 > 4)
    const [left, top] = [Math.min(...number.map(({ y0 }) => y0)), Math.max(...number.map(({ z1 }) => z1))]
    const cell = (top - Math.min(...number.map(({ z0 }) => z0))) / 5
    const { x0Mm, heightMm } = coupon.labelPlane
    // Columns run up the print; the top of the glyph is at the inked face, y = 0, on the left of who looks at the end.
    const seen = [0, 1, 2, 3, 4].map((row) =>
      [0, 1, 2]
        .map((column) => {
          const y = coupon.faceZMm - top + (row + 0.5) * cell
          const hit = firstHit('-x', y, left + (column + 0.5) * cell)
          expect([x0Mm, x0Mm + heightMm].some((plane) => Math.abs(hit - plane) < 1e-4)).toBe(true)
          return hit > x0Mm + heightMm / 2 ? '#' : '.'
        })
        .join(''),
    )
    // A two. Mirrored it would be a five.
    expect(seen).toEqual(['###', '..#', '###', '#..', '###'])
  })
})

describe('the 3MF of a rung', () => {
  it('names its rung, its exposure and the millimetre', async () => {
    const parts = unzipSync(await coupon3mf(layout, 4))
    // 3MF Core Specification (https://3mf.io/spec): this relationship names the part to start with, the model its unit.
    const type = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel'
    const [, start] = new RegExp(`Target="/([^"]+)"[^>]*Type="${type}"`).exec(strFromU8(parts['_rels/.rels']!)) ?? []
    const model = strFromU8(parts[start!]!)
    expect(model).toMatch(/<model [^>]*unit="millimeter"/)
    expect(model.match(/<object [^>]*>/g)).toEqual(['<object id="1" type="model" name="K7Q2XN rung 4, 3.15 s">'])
    expect(model.match(/<item [^>]*objectid="\d+"/g)).toEqual([expect.stringMatching(/objectid="1"/)])
  })

  it('is the same closed solid to another reader', async ({ skip }) => {
    skip(no3mfReader !== undefined, no3mfReader)
    skip(noChecker !== undefined, noChecker)
    writeFileSync(join(folder, 'rung.3mf'), await coupon3mf(layout, 4))
    run('assimp', 'export', 'rung.3mf', 'from-3mf.stl')
    const { count } = inspect('from-3mf.stl')
    for (const name of MENDED) expect([name, count(name)]).toEqual([name, 0])
    expect(Math.abs(count('Volume') / layoutVolumeMm3(4) - 1)).toBeLessThan(1e-5)
  })
})

it('refuses a slot that the ladder does not have', async () => {
  await expect(couponStl(layout, 5)).rejects.toThrow(new RangeError('couponMesh needs a slot from 1 to 4, got 5'))
})
