import { describe, expect, it } from 'vitest'
import { CAUTIONS, FIRST, type StepName } from '../../../server/finish/cautions.js'
import { travellerPdf } from '../../../server/printables/traveller-pdf.js'
import { missingTool, runTool } from '../../support/debian.js'

const all = Object.keys(CAUTIONS) as StepName[]
const words = (pdf: Buffer) =>
  runTool('pdftotext', ['-layout', '-', '-'], { input: pdf }).toString().replace(/\s+/g, ' ')
const pages = (pdf: Buffer) => /^Pages: +(\d+)$/m.exec(runTool('pdfinfo', ['-'], { input: pdf }).toString())?.[1]

describe.skipIf(missingTool('pdfinfo', 'poppler-utils'))('the traveller', () => {
  it.each(['a4', 'letter'] as const)('holds a whole route with notes on one page of %s', async (paper) => {
    const notes = Array.from({ length: 4 }, (_, i) => `Stage ${i + 1}: 60 s of light, 60 s of rest, turn the part`)
    const pdf = await travellerPdf({
      part: 'Cover of a lamp',
      resin: 'Bottle 7',
      paper,
      steps: all.map((name) => ({ name, minutes: 20, notes })),
    })
    expect(pages(pdf)).toBe('1')
    const text = words(pdf)
    expect(text).toContain('Cover of a lamp')
    // Nine steps of 20 min.
    expect(text).toContain('All together: 3 h')
    expect(text).toContain(FIRST)
  })

  it('has a box for each check and each note, and tells each caution once', async () => {
    const pdf = await travellerPdf({ part: 'Cover', steps: [{ name: 'dry', notes: ['Fan on'] }, { name: 'dry' }] })
    const text = words(pdf)
    expect(text).toContain('Fan on')
    expect(text).toContain('Part dries: 30 min')
    expect(text).toContain('All together: 1 h')
    expect(text.split('Ventilate.')).toHaveLength(2)
  })

  it('says that a step without a time is not in the sum', async () => {
    const pdf = await travellerPdf({ part: 'Cover', steps: [{ name: 'print' }, { name: 'drain' }] })
    expect(words(pdf)).toContain('All together: 15 min and the time of the steps without one')
  })
})
