import type { CardLayout, CardText, RectMm } from '../../../analysis/layout/schema.js'
import type { PlaneMap } from './camera.js'
import { disjoint } from './disjoint.js'
import type { CardOptions } from './options.js'
import { addDisc, addRect, type BlurAt } from './raster.js'
import { layerOver, type Scene } from './scene.js'

export type PrintedCard = Required<Omit<CardOptions, 'second'>>

/** Black modules of the code, those that touch in a row as one. */
function codeRects({ x0Mm, y1Mm, moduleMm, rows }: CardLayout['code']): RectMm[] {
  return rows.flatMap((row, r) =>
    [...row.matchAll(/1+/g)].map((run) => ({
      x0: x0Mm + run.index * moduleMm,
      x1: x0Mm + (run.index + run[0].length) * moduleMm,
      y0: y1Mm - (r + 1) * moduleMm,
      y1: y1Mm - r * moduleMm,
    })),
  )
}

/** A bar for each letter, a thin line for each underscore. */
function textRects({ text, xMm, yMm, sizeMm }: CardText): RectMm[] {
  return [...text].flatMap((letter, i): RectMm[] => {
    if (letter === ' ') return []
    const x = xMm + i * 0.5 * sizeMm
    return letter === '_'
      ? [{ x0: x, x1: x + 0.5 * sizeMm, y0: yMm, y1: yMm + 0.08 * sizeMm }]
      : [{ x0: x, x1: x + 0.35 * sizeMm, y0: yMm, y1: yMm + 0.65 * sizeMm }]
  })
}

/** The layout's black rectangles where the printer put them: scaled about the centre, each edge out by the gain. */
export function printedRects(rects: readonly RectMm[], { inkGainUm, scaleX, scaleY }: PrintedCard): RectMm[] {
  const gain = inkGainUm / 1000
  return disjoint(
    rects.map(({ x0, y0, x1, y1 }) => ({
      x0: x0 * scaleX - gain,
      x1: x1 * scaleX + gain,
      y0: y0 * scaleY - gain,
      y1: y1 * scaleY + gain,
    })),
  )
}

/** Draws the paper and all that is printed on it. */
export function drawCard(scene: Scene, map: PlaneMap, layout: CardLayout, card: PrintedCard, blurAt: BlurAt): void {
  const half = { x: (layout.sizeMm.x / 2) * card.scaleX, y: (layout.sizeMm.y / 2) * card.scaleY }
  const outline = { x0: -half.x, y0: -half.y, x1: half.x, y1: half.y }
  const sheet = layerOver(scene, map, outline, 12)
  addRect(sheet, map, outline, blurAt)

  const black = { ...sheet, data: new Float32Array(sheet.data.length) }
  for (const rect of printedRects([...layout.black, ...codeRects(layout.code)], card)) addRect(black, map, rect, blurAt)
  for (const { xMm, yMm, diameterMm } of layout.fiducials) {
    const radiusMm = diameterMm / 2 + card.inkGainUm / 1000
    addDisc(black, map, { xMm: xMm * card.scaleX, yMm: yMm * card.scaleY, radiusMm }, blurAt)
  }
  if (card.texts)
    for (const rect of printedRects(layout.texts.flatMap(textRects), card)) addRect(black, map, rect, blurAt, 0.6)

  const [red, green, blue] = scene.planes
  for (let row = 0; row < sheet.height; row++) {
    let at = (sheet.row0 + row) * scene.width + sheet.column0
    for (let i = row * sheet.width; i < (row + 1) * sheet.width; i++, at++) {
      const share = sheet.data[i] as number
      const level = share * (card.paper + (card.ink - card.paper) * Math.min(1, black.data[i] as number))
      red[at] = (red[at] as number) * (1 - share) + level
      green[at] = (green[at] as number) * (1 - share) + level
      blue[at] = (blue[at] as number) * (1 - share) + level
    }
  }
}
