import { readFileSync } from 'node:fs'
import * as fontkit from 'fontkit'
import type { LadderLayout } from '../../analysis/index.js'
import { codeModules } from './code-modules.js'
import { fontFile } from './font-file.js'

type CardLayout = LadderLayout['card']

const font = (name: `DejaVu${string}`) => fontkit.create(readFileSync(fontFile(name)))
let fonts: { regular: ReturnType<typeof font>; bold: ReturnType<typeof font> } | undefined

/** Text as an outline, so that the picture needs no font where it is drawn. */
function textPath(text: string, xMm: number, yMm: number, sizeMm: number, bold: boolean): string {
  fonts ??= { regular: font('DejaVuSans'), bold: font('DejaVuSans-Bold') }
  const face = bold ? fonts.bold : fonts.regular
  if (!('layout' in face)) throw new TypeError('cardSvg needs single fonts, got a collection')
  const scale = sizeMm / face.unitsPerEm
  const { glyphs, positions } = face.layout(text)
  let x = xMm
  return glyphs
    .map((glyph, i) => {
      const drawn = `<path transform="translate(${x} ${yMm}) scale(${scale} ${-scale})" d="${glyph.path.toSVG()}"/>`
      x += (positions[i]?.xAdvance ?? 0) * scale
      return drawn
    })
    .join('')
}

/**
 * The card as SVG, user unit 1 mm. Text is drawn as outlines.
 *
 * @param card a card's layout (origin at the centre, y up)
 * @param pixelsPerMm size of the picture; left out, it is given in mm
 */
export function cardSvg(card: CardLayout, pixelsPerMm?: number): string {
  const { x: width, y: height } = card.sizeMm
  const size = (mm: number) => (pixelsPerMm === undefined ? `${mm}mm` : `${Math.round(mm * pixelsPerMm)}`)
  const X = (x: number) => x + width / 2
  const Y = (y: number) => height / 2 - y
  const black = [...card.black, ...codeModules(card.code)]
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size(width)}" height="${size(height)}" viewBox="0 0 ${width} ${height}">`,
    `<rect width="${width}" height="${height}" fill="#fff"/><g fill="#000" shape-rendering="crispEdges">`,
    ...black.map(({ x0, y0, x1, y1 }) => `<rect x="${X(x0)}" y="${Y(y1)}" width="${x1 - x0}" height="${y1 - y0}"/>`),
    '</g><g fill="#000">',
    ...card.fiducials.map(
      ({ xMm, yMm, diameterMm }) => `<circle cx="${X(xMm)}" cy="${Y(yMm)}" r="${diameterMm / 2}"/>`,
    ),
    ...card.texts.map(({ text, xMm, yMm, sizeMm, bold }) => textPath(text, X(xMm), Y(yMm), sizeMm, bold)),
    '</g></svg>',
  ].join('\n')
}
