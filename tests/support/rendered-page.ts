import { spawnSync } from 'node:child_process'
import type { Dots } from './ink.js'

/** The only page of a PDF, drawn by poppler (Debian: poppler-utils), one pixel a dot. */
export function renderPage(pdf: Uint8Array, dotsPerInch: number): Dots {
  const { stdout, stderr, status } = spawnSync('pdftoppm', ['-r', `${dotsPerInch}`, '-gray', '-'], {
    input: pdf,
    maxBuffer: 1e9,
  })
  // Binary PGM: https://netpbm.sourceforge.net/doc/pgm.html
  const header = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(stdout.toString('latin1', 0, 64))
  if (status !== 0 || !header) throw new Error(`pdftoppm failed: ${stderr.toString()}`)
  const [all, width, height] = [header[0].length, Number(header[1]), Number(header[2])]
  return {
    width,
    height,
    darkness: (column, row) => 255 - (stdout[all + row * width + column] ?? NaN),
  }
}
