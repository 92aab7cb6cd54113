import type { CouponLayout, Prism, RectMm } from '../../../analysis/layout/schema.js'
import type { CouponOptions } from './options.js'
import { seededNormal } from './random.js'

export type Coupon = Required<CouponOptions>

/** A groove as it came out, in the coupon's coordinates; no rectangle if it closed or became part of its neighbour. */
export interface PrintedVoid {
  id: string
  role: Prism['role']
  group?: string
  rectMm?: RectMm
}

export const rectOf = ({ polygon }: Prism): RectMm => {
  const xs = polygon.map(([x]) => x)
  const ys = polygon.map(([, y]) => y)
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) }
}

/** Neighbouring grooves of the comb run together where the line between them has vanished. */
function joinComb(voids: PrintedVoid[]): void {
  const comb = voids.filter(({ role, rectMm }) => role === 'x-line' && rectMm)
  let last: PrintedVoid | undefined
  for (const groove of comb) {
    if (last?.rectMm && groove.rectMm && groove.rectMm.x0 <= last.rectMm.x1) {
      last.rectMm = { ...last.rectMm, x1: Math.max(last.rectMm.x1, groove.rectMm.x1) }
      delete groove.rectMm
    } else last = groove
  }
}

/** Grooves of the layout after the solid round them has grown. */
export function printVoids(layout: CouponLayout, coupon: Coupon, seed: number): PrintedVoid[] {
  const normal = seededNormal(seed)
  const sideways = (): number => (coupon.growthUm + coupon.edgeScatterUm * normal()) / 1000
  const voids = layout.prisms
    .filter(({ kind }) => kind === 'void')
    .map((prism): PrintedVoid => {
      const { id, role, group } = prism
      const nominal = rectOf(prism)
      const rectMm = {
        x0: nominal.x0 + sideways(),
        x1: nominal.x1 - sideways(),
        y0: nominal.y0 + coupon.earlierGrowthUm / 1000,
        y1: nominal.y1 - coupon.printThroughUm / 1000,
      }
      const open = rectMm.x1 > rectMm.x0 && rectMm.y1 > rectMm.y0
      return { id, role, ...(group === undefined ? {} : { group }), ...(open ? { rectMm } : {}) }
    })
  joinComb(voids)
  return voids
}

/** Widths of the isolated lines and spaces as they came out, um; 0 for those that vanished. */
export function isolatedWidthsUm(layout: CouponLayout, voids: readonly PrintedVoid[]): Record<string, number> {
  const comb = voids.flatMap(({ role, rectMm }) => (role === 'x-line' && rectMm ? [rectMm] : []))
  const width = ({ id, kind, x0Mm, x1Mm }: CouponLayout['isolated'][number]): number => {
    const rect = voids.find((v) => v.id === id)?.rectMm
    if (kind === 'space') return rect ? (rect.x1 - rect.x0) * 1000 : 0
    const middle = (x0Mm + x1Mm) / 2
    if (comb.some(({ x0, x1 }) => x0 <= middle && middle <= x1)) return 0
    const left = Math.max(...comb.filter(({ x1 }) => x1 < middle).map(({ x1 }) => x1))
    const right = Math.min(...comb.filter(({ x0 }) => x0 > middle).map(({ x0 }) => x0))
    return (right - left) * 1000
  }
  return Object.fromEntries(layout.isolated.map((feature) => [feature.id, width(feature)]))
}
