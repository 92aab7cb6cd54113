import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { LadderLayout } from '../../analysis/index.js'
import { layoutOf, type DesignOptions } from './design.js'
import { withPath, writeResult } from './files.js'
import { UsageError } from '../usage-error.js'

interface Output {
  readonly output?: string
}

const named = ({ design }: LadderLayout, rest: string) => `stepglass-${design.ladderId}-${rest}`

/** The card as a file. */
export async function card(
  flags: DesignOptions & Output & { format: 'pdf' | 'png' | 'svg'; paper: 'a4' | 'letter' },
): Promise<void> {
  const { format, paper, output } = flags
  const layout = layoutOf(flags)
  const make = {
    pdf: async () => (await import('../printables/card-pdf.js')).cardPdf(layout, paper),
    png: async () => (await import('../printables/card-png.js')).cardPng(layout.card),
    svg: async () => (await import('../printables/card-svg.js')).cardSvg(layout.card),
  }
  await writeResult(
    output ?? named(layout, format === 'pdf' ? `card-${paper}.pdf` : `card.${format}`),
    await make[format](),
  )
}

/** One coupon as a file, or all of a ladder in a folder. */
export async function coupon(flags: DesignOptions & Output & { format: 'stl' | '3mf'; slot?: number }): Promise<void> {
  const { format, slot, output } = flags
  const layout = layoutOf(flags)
  const { couponStl, coupon3mf } = await import('../printables/index.js')
  const { rungFileName } = await import('../printables/rung-name.js')
  const make = format === 'stl' ? couponStl : coupon3mf
  const fileName = (one: number) => `${rungFileName(layout, one)}.${format}`
  const slots = layout.card.slots.map((place) => place.slot)

  if (slot !== undefined) {
    if (!slots.includes(slot)) throw new UsageError(`--slot must be from 1 to ${slots.length}, got ${slot}`)
    return writeResult(output ?? fileName(slot), await make(layout, slot))
  }
  if (output === '-') throw new UsageError('standard output takes one coupon; add --slot')
  const folder = output ?? named(layout, 'coupons')
  await withPath(folder, (path) => mkdir(path, { recursive: true }))
  for (const one of slots) await writeResult(join(folder, fileName(one)), await make(layout, one))
}

/** All that a ladder needs, as one archive. */
export async function kit(flags: DesignOptions & Output): Promise<void> {
  const layout = layoutOf(flags)
  const { ladderArchive } = await import('../printables/index.js')
  // The same ladder always gets the same print order.
  const archive = await ladderArchive(layout, { seed: layout.design.ladderId })
  await writeResult(flags.output ?? named(layout, 'kit.zip'), archive)
}
