import type { LadderLayout } from '../../analysis/index.js'
import { couponMesh } from './coupon-mesh.js'
import { rungName } from './rung-name.js'
import { stl } from './stl.js'
import { threeMf } from './three-mf.js'

export { cardPdf, type Paper } from './card-pdf.js'
export { cardPng } from './card-png.js'
export { cardSvg } from './card-svg.js'
export { ladderArchive, type LadderArchiveOptions } from './ladder-archive.js'
export { printOrder } from './print-order.js'

/**
 * One rung's coupon as binary STL in mm, standing as it is printed: build direction z, lower edge at z = 0.
 *
 * @throws {RangeError} if the ladder has no such slot
 */
export async function couponStl(layout: LadderLayout, slot: number): Promise<Uint8Array> {
  return stl(await couponMesh(layout, slot), rungName(layout, slot))
}

/**
 * One rung's coupon as 3MF, standing as it is printed; the object is named after its rung and exposure.
 *
 * @throws {RangeError} if the ladder has no such slot
 */
export async function coupon3mf(layout: LadderLayout, slot: number): Promise<Uint8Array> {
  return threeMf(await couponMesh(layout, slot), rungName(layout, slot))
}
