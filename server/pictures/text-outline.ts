import { readFileSync } from 'node:fs'
import * as fontkit from 'fontkit'
import { fontFile } from '../printables/font-file.js'

let font: fontkit.Font | undefined

function loadFont(): fontkit.Font {
  const face = fontkit.create(readFileSync(fontFile('DejaVuSans-Bold')))
  if (!('layout' in face)) throw new TypeError('textOutline needs a single font, got a collection')
  return face
}

/**
 * Text as SVG outlines, so that the picture needs no font where it is drawn.
 *
 * @param size font size in the picture's unit
 * @returns paths with the left end of the baseline at (0, 0), y down, and the width of the text
 */
export function textOutline(text: string, size: number): { paths: string; width: number } {
  font ??= loadFont()
  const scale = size / font.unitsPerEm
  const { glyphs, positions } = font.layout(text)
  let x = 0
  const paths = glyphs.map((glyph, i) => {
    const path = `<path transform="translate(${x}) scale(${scale} ${-scale})" d="${glyph.path.toSVG()}"/>`
    x += (positions[i]?.xAdvance ?? 0) * scale
    return path
  })
  return { paths: paths.join(''), width: x }
}
