import { runTool } from './debian.js'
import type { Dots } from './ink.js'

/** The only page of a PDF, drawn by poppler (Debian: poppler-utils), one pixel a dot. */
export function renderPage(pdf: Uint8Array, dotsPerInch: number): Dots {
  const pgm = runTool('pdftoppm', ['-r', `${dotsPerInch}`, '-gray', '-'], { input: pdf })
  // Binary PGM: https://netpbm.sourceforge.net/doc/pgm.html
  const header = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.toString('latin1', 0, 64))
  if (!header) throw new Error('pdftoppm wrote no PGM of 8 bits')
  const [all, width, height] = [header[0].length, Number(header[1]), Number(header[2])]
  return {
    width,
    height,
    darkness: (column, row) => 255 - (pgm[all + row * width + column] ?? NaN),
  }
}
