import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { LABEL_SIZES } from '../../../server/api/sheets.js'
import { labelPdf } from '../../../server/sheets/label-pdf.js'
import { labelPart, labelText } from '../../../server/sheets/label-text.js'
import { sheetPdf } from '../../../server/sheets/sheet-pdf.js'
import { sheetWords } from '../../../server/sheets/sheet-words.js'
import { newSigningKey, signed } from '../../../server/sheets/signature.js'
import { readCodes } from '../../support/code-reader.js'
import { missingTool, runTool } from '../../support/debian.js'
import { inkedDots } from '../../support/ink.js'
import { renderPage } from '../../support/rendered-page.js'
import { fullSheet } from './sheets.js'

const noPoppler = missingTool('pdftoppm', 'poppler-utils')
const noCodeReader = missingTool('zbarimg', 'zbar-tools')
const ask = (command: string, args: readonly string[], pdf: Buffer) => runTool(command, args, { input: pdf }).toString()
const asPng = (pdf: Buffer, dpi: number) => runTool('pdftoppm', ['-r', `${dpi}`, '-png', '-'], { input: pdf })

/** As much text as the schema lets in. */
const wordy = {
  ...fullSheet,
  howSure: 'Sure of it. '.repeat(50).trim().slice(0, 600),
  chosenBecause: 'Because. '.repeat(40).trim().slice(0, 300),
  limitedBy: 'Walls. '.repeat(50).trim().slice(0, 300),
  method: 'Measured. '.repeat(40).trim().slice(0, 300),
  note: 'Noted down. '.repeat(50).trim().slice(0, 500),
  otherHeights: [25, 30, 40, 75, 100, 150].map((layerHeightUm) => ({
    layerHeightUm,
    rangeS: [1.27, 2.8] as [number, number],
  })),
}

describe.skipIf(noPoppler).each([
  ['a4', /\(A4\)$/m],
  ['letter', /612 x 792 pts \(letter\)$/m],
] as const)('a sheet on %s', (paper, size) => {
  it('is one page, however much it says, with fonts embedded and every fact in its text', async () => {
    const pdf = await sheetPdf(wordy, paper)
    const info = ask('pdfinfo', ['-'], pdf)
    expect(info).toMatch(/^Pages: +1$/m)
    expect(info).toMatch(size)
    const [, , ...fonts] = ask('pdffonts', ['-'], pdf).trim().split('\n')
    for (const font of fonts) expect(font).toMatch(/ yes yes yes +\d+ +0$/)
    const said = ask('pdftotext', ['-layout', '-', '-'], pdf).replaceAll(/\s+/g, '')
    const { exposure, range, facts, invalidWhen, cautions, warning } = sheetWords(wordy)
    for (const words of [exposure, range, ...facts.flat(), ...invalidWhen, cautions, warning!])
      expect(said).toContain(words.replaceAll(/\s+/g, ''))
  })

  it('is black, white and greys, and holds a code that reads', async () => {
    if (noCodeReader) return
    const { photoJpeg: _, ...without } = fullSheet
    const page = asPng(await sheetPdf(without, paper), 200)
    const { channels } = await sharp(page).stats()
    const [red, green, blue] = channels.map(({ mean }) => mean)
    expect([green, blue]).toEqual([red, red])
    expect(readCodes(page)).toEqual(labelText(labelPart(fullSheet)).trimEnd().split('\n'))
  })
})

describe.skipIf(noPoppler || noCodeReader).each(LABEL_SIZES)('a label of %s mm', (size) => {
  const part = signed(labelPart(fullSheet), newSigningKey())

  it('is a page of that size with its ink inside', async () => {
    const pdf = await labelPdf(part, size)
    const [widthMm, heightMm] = size.split('x').map(Number) as [number, number]
    const [, width, height] = /^Page size: +([\d.]+) x ([\d.]+) pts/m.exec(ask('pdfinfo', ['-'], pdf)) ?? []
    expect((Number(width) * 25.4) / 72).toBeCloseTo(widthMm, 1)
    expect((Number(height) * 25.4) / 72).toBeCloseTo(heightMm, 1)
    const page = renderPage(pdf, 300)
    // Printers of labels reach to a millimetre of the edge.
    const millimetre = 12
    const { width: w, height: h } = page
    for (const edge of [
      { x0: 0, y0: 0, x1: w, y1: millimetre },
      { x0: 0, y0: h - millimetre, x1: w, y1: h },
      { x0: 0, y0: 0, x1: millimetre, y1: h },
      { x0: w - millimetre, y0: 0, x1: w, y1: h },
    ])
      expect(inkedDots(page, edge)).toBe(0)
  })

  it('reads back by another reader from a picture that is blurred and tilted', async () => {
    const photo = await sharp(asPng(await labelPdf(part, size), 400))
      .affine([1, 0.06, -0.05, 0.96], { background: '#fff' })
      .rotate(6, { background: '#fff' })
      .blur(1.2)
      .png()
      .toBuffer()
    expect(readCodes(photo)).toEqual(labelText(part).trimEnd().split('\n'))
  })
})
