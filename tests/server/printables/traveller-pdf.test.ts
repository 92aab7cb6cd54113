import { describe, expect, it } from 'vitest'
import { STEP_NAMES } from '../../../server/finish/steps.js'
import { english } from '../../../server/finish/words/english.js'
import { german } from '../../../server/finish/words/german.js'
import { travellerPdf } from '../../../server/printables/traveller-pdf.js'
import { missingTool, runTool } from '../../support/debian.js'

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
      steps: STEP_NAMES.map((name) => ({ name, minutes: 20, notes })),
    })
    expect(pages(pdf)).toBe('1')
    const text = words(pdf)
    expect(text).toContain('Cover of a lamp')
    // Nine steps of 20 min.
    expect(text).toContain('All together: 3 h')
    expect(text).toContain(english.first)
  })

  it('has a box for each check and each note, and tells each caution once in full', async () => {
    const pdf = await travellerPdf({ part: 'Cover', steps: [{ name: 'dry', notes: ['Fan on'] }, { name: 'dry' }] })
    const text = words(pdf)
    expect(text).toContain('Fan on')
    expect(text).toContain('Part dries: 30 min')
    expect(text).toContain('All together: 1 h')
    expect(text.split('Ventilate.')).toHaveLength(2)
    expect(text).toContain('Solvent burns (as at 1), Vapour (as at 1)')
  })

  it('says that a step without a time is not in the sum', async () => {
    const pdf = await travellerPdf({ part: 'Cover', steps: [{ name: 'print' }, { name: 'drain' }] })
    expect(words(pdf)).toContain('All together: 15 min and the time of the steps without one')
  })

  it('takes lines and waits from the data sheet, and marks them', async () => {
    const pdf = await travellerPdf(
      { part: 'Cover', steps: [{ name: 'prepare' }, { name: 'wash' }] },
      { fromC: 22, toC: 28, standMin: 45, washMaxMin: 4 },
    )
    const text = words(pdf)
    expect(text).toContain('Resin and room at 22 to 28 °C (data sheet)')
    expect(text).toContain('Resin stands: 45 min (data sheet)')
    // Usual baths of 3 and 2 min, shortened alike to the 4 min allowed.
    expect(text).toContain('First bath: 2.4 min (data sheet)')
    expect(text).toContain('Second bath: 1.6 min (data sheet)')
    expect(text).toContain('In liquid 4 min at most')
    expect(text).toContain('All together: 49 min')
  })

  it('speaks German', async () => {
    const steps = STEP_NAMES.map((name) => ({ name }))
    const pdf = await travellerPdf({ part: 'Deckel', language: 'de', steps }, { washMaxMin: 4, dryMin: 20 })
    expect(pages(pdf)).toBe('1')
    const text = words(pdf)
    for (const { title } of Object.values(german.steps)) expect(text).toContain(title)
    expect(text).toContain('Teil trocknet: 20 min (Datenblatt)')
    expect(text).toContain('Erstes Bad: 2,4 min (Datenblatt)')
    expect(text).toContain('Zusammen: 2 h 9 min')
    // No line of the English page is left on it.
    const lines = Object.values(english.steps).flatMap(({ checks }) => Object.values<string>(checks))
    expect(lines.filter((line) => text.includes(line))).toEqual([])
  })
})
