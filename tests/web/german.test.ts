import { afterAll, beforeAll, expect, it } from 'vitest'
import type { LadderReading } from '../../analysis/result.js'
import { answered, refused, unbracketed } from '../support/reading-fixture.js'
import { expectSound, openWorkshop } from './workshop.js'

let workshop: Awaited<ReturnType<typeof openWorkshop>>
beforeAll(async () => {
  workshop = await openWorkshop()
})
afterAll(() => workshop.close())

async function read(result: LadderReading) {
  const window = await workshop.open('light phone', { locale: 'de-DE' })
  workshop.reader.read = () => result
  await window.page.getByLabel('Foto wählen').setInputFiles(workshop.freshPhoto())
  await window.page.waitForURL(/#\/reading\//)
  return window
}

it('says in German how the exposure was chosen, how sure it is, what limits it and what to mind', async () => {
  const window = await read({
    ...answered,
    suggestion: {
      ...answered.suggestion!,
      chosenBy: 'survival',
      limits: [{ by: 'walls', inWords: '0.2 mm walls, which stand only from 2.3 s up' }],
      confidenceBasis: {
        reachesEnd: { low: false, high: true },
        rungs: { small: 2, big: 3 },
        mostlyShared: true,
        caliperTabs: 1,
      },
    },
    warnings: [
      { code: 'card-bowed', advice: 'Lay it flat.', detail: 'its middle 2.1 mm above its edges' },
      { code: 'made-up-code', advice: 'Said by a newer service.' },
    ],
  })
  const answer = window.page.getByRole('region', { name: 'Schichtbelichtung' })
  await answer.waitFor()
  const text = (await answer.innerText()).replaceAll(/\s+/g, ' ')
  for (const part of [
    'Mit 95 % Sicherheit liegt die Belichtung mit diesem Wachstum im Bereich 2,16 bis 2,56 s oder über der obersten Sprosse',
    'nach 5 Sprossen, von denen 2 zu klein und 3 zu groß sind; den größten Teil des Zweifels verschiebt das ganze Foto',
    'Ein Messwert mit dem Messschieber an den Beinen verankert sie.',
    'die dünnste gewünschte Wand, die erst ab hier sicher steht',
    'bei der die gewünschten Wände und Spalte überleben.',
  ])
    expect(text).toContain(part)
  const warnings = await window.page.getByRole('region', { name: 'Bitte beachten' }).innerText()
  expect(warnings).toContain('Karte gewölbt. Die Karte lag nicht flach.')
  expect(warnings).not.toContain('Lay it flat')
  // What this page has no German for is said all the same.
  expect(warnings).toContain('Made up code. Said by a newer service.')
  await expectSound(window)
})

it('says in German why there is no suggestion and what to print next', async () => {
  const { noSuggestion } = unbracketed
  const window = await read({
    ...unbracketed,
    noSuggestion: {
      ...noSuggestion!,
      code: 'not-bracketed-low',
      nextLadder: { ...noSuggestion!.nextLadder, reason: 'lower' },
    },
  })
  const panel = window.page.getByRole('region', { name: 'Kein Vorschlag aus dieser Leiter' })
  await panel.waitFor()
  const text = await panel.innerText()
  expect(text).toContain('Nach unten nicht eingegrenzt')
  expect(text).toContain('Niedrigere Belichtungen drucken')
  expect(text).toContain('reicht von der untersten Sprosse')
})

it('says in German why a photo cannot be read', async () => {
  const window = await read({ ...refused, refusal: { code: 'card-cropped', advice: 'Step back.' } })
  await window.page.getByRole('heading', { name: 'Karte abgeschnitten' }).waitFor()
  await window.page.getByText('Weiter zurückgehen, bis alle schwarzen Scheiben der Karte im Bild sind.').waitFor()
})
