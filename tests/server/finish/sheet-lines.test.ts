import { expect, it } from 'vitest'
import type { StepsReply } from '../../../server/api/finish.js'
import { finishSteps } from '../../../server/finish/steps.js'
import type { StepName } from '../../../server/finish/cautions.js'
import type { ResinSheet } from '../../../server/finish/sheet-lines.js'
import { english } from '../../../server/finish/words/english.js'
import { german } from '../../../server/finish/words/german.js'
import { startService } from '../support/service.js'

const sheet: ResinSheet = {
  ...{ fromC: 22, toC: 28, standMin: 30, washLiquid: 'Ethanol', washFlashC: 13.5, washMaxMin: 10, dryMin: 20 },
  ...{ postCureMin: 8, postCureLampW: 40, postCureNm: 405, postCureMaxC: 70, softensC: 62, refractiveIndex: 1.51 },
}
const step = (name: StepName, given: ResinSheet, words = english as typeof german) =>
  finishSteps(words, given).find((one) => one.name === name)!
const fromSheet = (name: StepName, given: ResinSheet, words?: typeof german) =>
  step(name, given, words)
    .checks.filter((line) => line.fromSheet)
    .map(({ text }) => text)

it('takes the window, the liquid and its flash point, the lamp and the index from the sheet', () => {
  expect(fromSheet('prepare', sheet)).toEqual(['Resin and room at 22 to 28 °C'])
  expect(fromSheet('wash', sheet)).toEqual([
    'First bath: used Ethanol',
    'Second bath: clean Ethanol',
    'Ethanol flashes at 13.5 °C: no flame, no spark near it',
    'In liquid 10 min at most, all baths together',
  ])
  expect(fromSheet('post-cure', sheet)).toEqual([
    'At least 8 min of light on each face under a lamp of 40 W, 405 nm',
    // The lower of 70 and the 62 at which the part softens.
    'Part stays below 62 °C',
  ])
  expect(fromSheet('smooth', sheet)).toEqual(['Rubbed cool, never near 62 °C, where it softens'])
  expect(fromSheet('coat', sheet)).toEqual(['Coat of an index near 1.51'])
  expect(fromSheet('wash', sheet, german)).toContain(
    'Ethanol entflammt ab 13,5 °C: keine Flamme, kein Funke in der Nähe',
  )
})

it('marks a wait as the sheet’s even where it is the usual one, and leaves baths that are short enough', () => {
  expect(step('prepare', sheet).waits).toEqual([{ id: 'stand', what: 'Resin stands', minutes: 30, fromSheet: true }])
  expect(step('dry', sheet).waits[0]).toMatchObject({ minutes: 20, fromSheet: true })
  expect(step('post-cure', sheet).waits[0]).toMatchObject({ id: 'light', minutes: 8, fromSheet: true })
  expect(step('wash', sheet).waits.map(({ minutes, fromSheet }) => [minutes, fromSheet])).toEqual([
    [3, false],
    [2, false],
  ])
  expect(step('wash', { washMaxMin: 1 }).waits.map(({ minutes }) => minutes)).toEqual([0.6, 0.4])
})

it('names half a window and changes nothing without a sheet', () => {
  expect(fromSheet('prepare', { fromC: 22 })).toEqual(['Resin and room from 22 °C'])
  expect(finishSteps(english, {})).toEqual(finishSteps(english))
  expect(
    finishSteps(english)
      .flatMap(({ checks }) => checks)
      .some((line) => line.fromSheet),
  ).toBe(false)
})

it('serves the steps by the record of a resin and in German', async () => {
  const service = await startService()
  const { recordId } = (await service.post('/api/resins', { name: 'Clear', ...sheet })).json<{ recordId: string }>()
  const reply = await service.get(`/api/finish/steps?language=de&resinId=${recordId}`)
  expect(reply.statusCode, reply.body).toBe(200)
  const { first, steps } = reply.json<StepsReply>()
  expect(first).toBe(german.first)
  expect(steps[0]!.checks).toContainEqual({
    id: 'temperature',
    text: 'Harz und Raum bei 22 bis 28 °C',
    fromSheet: true,
  })
  const none = await service.get('/api/finish/steps?resinId=nobody')
  expect([none.statusCode, none.json<{ code: string }>().code]).toEqual([404, 'no-such-resin'])
  const traveller = await service.post('/api/finish/traveller.pdf', {
    part: 'Cover',
    resinId: 'nobody',
    steps: [{ name: 'wash' }],
  })
  expect(traveller.statusCode).toBe(404)
})
