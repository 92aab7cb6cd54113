import { strToU8, zipSync, type Zippable } from 'fflate'
import type { LadderLayout } from '../../analysis/index.js'
import { cardPdf } from './card-pdf.js'
import { couponMesh } from './coupon-mesh.js'
import { printOrderNote } from './print-order.js'
import { rungFileName, rungName } from './rung-name.js'
import { stl } from './stl.js'
import { threeMf } from './three-mf.js'

export interface LadderArchiveOptions {
  /** Draws the print order: the same seed gives the same order. */
  readonly seed: string
}

/** A zip of all that one ladder needs: every rung as STL and 3MF, the card for both papers, the print order. */
export async function ladderArchive(layout: LadderLayout, { seed }: LadderArchiveOptions): Promise<Uint8Array> {
  const folder: Zippable = { 'print-order.txt': strToU8(printOrderNote(layout, seed)) }
  for (const paper of ['a4', 'letter'] as const) folder[`card-${paper}.pdf`] = await cardPdf(layout, paper)
  for (const { slot } of layout.card.slots) {
    const mesh = await couponMesh(layout, slot)
    const file = rungFileName(layout, slot)
    folder[`${file}.stl`] = stl(mesh, rungName(layout, slot))
    folder[`${file}.3mf`] = threeMf(mesh, rungName(layout, slot))
  }
  return zipSync({ [`stepglass-${layout.design.ladderId}`]: folder })
}
