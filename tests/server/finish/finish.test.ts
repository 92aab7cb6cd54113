import { describe, expect, it } from 'vitest'
import type {
  PostCureReply,
  PrepareReply,
  ProcessLadderReply,
  SmoothReply,
  StepsReply,
} from '../../../server/api/finish.js'
import { answerPostCure, answerPrepare, answerSmooth } from '../../../server/finish/answers.js'
import { CAUTIONS, cautionsOf } from '../../../server/finish/cautions.js'
import { answerProcessLadder } from '../../../server/finish/process-answer.js'
import { chosenSteps, inMinutes, totalMinutes } from '../../../server/finish/traveller.js'
import { english } from '../../../server/finish/words/english.js'
import { postCureReport, prepareReport, smoothReport } from '../../../server/report/finish-report.js'
import { processReport } from '../../../server/report/process-report.js'
import { valueOf } from '../../support/outcomes.js'
import { plainPhoto, startService } from '../support/service.js'
import type { PhotoAccepted } from '../../../server/api/readings.js'

const part = { thicknessMm: 6, surroundings: 'still-air', surroundingsC: 22, bothSides: false } as const

describe('post-cure', () => {
  it('scales a time given for another lamp at equal radiant exposure', () => {
    const { lightS, warnings } = valueOf(
      answerPostCure({ ...part, lamp: { powerW: 70 }, wanted: { kind: 'other-lamp', minutes: 5, powerW: 40 } }),
    )
    // Common practice, no source: 5 min at 40 W are 2 min 51 s at 70 W.
    expect(lightS).toBe(171)
    expect(warnings[0]!.code).toBe('irradiance-guessed')
  })

  it('counts a measured lamp in J/cm2 and guesses nothing of it', () => {
    const { doseJPerCm2, warnings } = valueOf(
      answerPostCure({ ...part, lamp: { irradianceMwPerCm2: 10 }, wanted: { kind: 'time', minutes: 10 } }),
    )
    // 10 mW/cm2 x 600 s = 6 J/cm2.
    expect(doseJPerCm2).toBeCloseTo(6, 12)
    expect(warnings.map(({ code }) => code)).not.toContain('irradiance-guessed')
  })

  it('asks for what is missing of the lamp', () => {
    expect(answerPostCure({ ...part, lamp: {}, wanted: { kind: 'time', minutes: 1 } })).toMatchObject({
      refusal: { code: 'lamp-unknown' },
    })
    expect(
      answerPostCure({
        ...part,
        lamp: { irradianceMwPerCm2: 10 },
        wanted: { kind: 'other-lamp', minutes: 5, powerW: 40 },
      }),
    ).toMatchObject({ refusal: { code: 'power-unknown' } })
  })
})

describe('the service', () => {
  it('answers for post-cure, smoothing and preparing, each with its cautions', async () => {
    const service = await startService()
    const body = { ...part, lamp: { irradianceMwPerCm2: 40 }, wanted: { kind: 'dose', doseJPerCm2: 12 }, limitC: 45 }
    const cure = await service.post('/api/finish/post-cure', body)
    expect(cure.statusCode, cure.body).toBe(200)
    const { peakC, curve, cautions } = cure.json<PostCureReply>()
    expect(peakC).toBeLessThanOrEqual(45)
    expect(curve.length).toBeLessThanOrEqual(241)
    expect(curve.at(-1)!.frontDoseJPerCm2).toBeCloseTo(12, 6)
    expect(cautions).toEqual(cautionsOf('post-cure', english))
    const smooth = await service.post('/api/finish/smooth', {
      layerUm: 50,
      wallDegrees: 45,
      scale: 'P',
      coatIndex: 1.5,
    })
    expect(smooth.statusCode, smooth.body).toBe(200)
    // The finest P grain not below the 35.4 um of the steps.
    expect(smooth.json<SmoothReply>().steps[0]!.name).toBe('P 360')
    const prepare = await service.post('/api/finish/prepare', { resinC: 15, viscosityMPaS: 400 })
    expect(prepare.statusCode, prepare.body).toBe(200)
    expect(prepare.json<PrepareReply>().warnings[0]!.code).toBe('resin-cold')
  })

  it('refuses a bath as warm as the limit with what to do, and a field it does not know', async () => {
    const service = await startService()
    const body = { ...part, lamp: { irradianceMwPerCm2: 40 }, wanted: { kind: 'dose', doseJPerCm2: 12 } }
    const warm = await service.post('/api/finish/post-cure', { ...body, surroundingsC: 70 })
    expect([warm.statusCode, warm.json<{ code: string }>().code]).toEqual([422, 'bath-too-warm'])
    expect((await service.post('/api/finish/post-cure', { ...body, colour: 'blue' })).statusCode).toBe(400)
  })

  it('tells every step with why, checks and cautions', async () => {
    const service = await startService()
    const { first, steps } = (await service.get('/api/finish/steps')).json<StepsReply>()
    expect(first).toBe(english.first)
    expect(steps.map(({ name }) => name)).toEqual(Object.keys(CAUTIONS))
    for (const { why, checks, cautions } of steps) {
      expect(why.length).toBeGreaterThan(20)
      expect(checks.length).toBeGreaterThan(0)
      expect(cautions.length).toBeGreaterThan(0)
    }
  })

  it('reads a process ladder from stored coupons', async () => {
    const service = await startService()
    const accepted = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
    await service.ended(accepted)
    const coupons = ['P 400', 'P 800'].map((level, i) => ({ readingId: accepted.readingId, slot: i + 1, level }))
    const reply = await service.post('/api/finish/process-ladder', { factor: 'grit', of: 'growthUm', coupons })
    expect(reply.statusCode, reply.body).toBe(200)
    const { steps } = reply.json<ProcessLadderReply>()
    expect(steps!.means.map(({ level }) => level)).toEqual(['P 400', 'P 800'])
    const none = await service.post('/api/finish/process-ladder', {
      factor: 'grit',
      of: 'growthUm',
      coupons: coupons.map((one) => ({ ...one, slot: 99 })),
    })
    expect([none.statusCode, none.json<{ code: string }>().code]).toEqual([422, 'no-response'])
  })

  it('prints the traveller as PDF', async () => {
    const service = await startService()
    const reply = await service.post('/api/finish/traveller.pdf', { part: 'Cover', steps: [{ name: 'wash' }] })
    expect(reply.statusCode).toBe(200)
    expect(reply.headers['content-type']).toBe('application/pdf')
    expect(reply.rawPayload.subarray(0, 5).toString()).toBe('%PDF-')
  })
})

describe('times of a route', () => {
  it('takes given minutes before the usual waits, and sums what is known', () => {
    const chosen = chosenSteps(
      [{ name: 'wash' }, { name: 'wash', minutes: 9 }, { name: 'print' }, { name: 'dry', minutes: 60 }],
      english,
    )
    expect(chosen.map(({ minutesInAll }) => minutesInAll)).toEqual([5, 9, undefined, 60])
    expect(totalMinutes(chosen)).toBe(74)
    expect([1.5, 45, 60, 200].map((minutes) => inMinutes(minutes))).toEqual(['1.5 min', '45 min', '1 h', '3 h 20 min'])
  })
})

describe('in words', () => {
  it('tells stages, both temperatures, the warning and the cautions', () => {
    const text = postCureReport(
      valueOf(
        answerPostCure({
          ...part,
          lamp: { irradianceMwPerCm2: 40 },
          wanted: { kind: 'dose', doseJPerCm2: 12 },
          limitC: 45,
        }),
      ),
    )
    expect(text).toMatch(/Stages +10 of 60 s, 60 s of rest between, the part turned after each/)
    expect(text).toMatch(/by conduction, [\d.]+ °C as one lump; limit 45 °C/)
    expect(text.replace(/\s+/g, ' ')).toContain(english.cautions.light.text)
    expect(text).toMatch(/Guess +depth at which 1\/e of the light is left in the cured resin: 1\.5 mm/)
    expect(text.endsWith(english.first)).toBe(true)
  })

  it('tells grits with their scale and where to stop', () => {
    const text = smoothReport(answerSmooth({ layerUm: 50, wallDegrees: 45, scale: 'P', coatIndex: 1.5 }))
    expect(text).toMatch(/P 800 .*stop here/)
    expect(text).toContain('35.4 µm high from layers')
    expect(prepareReport(answerPrepare({ resinC: 15 }))).toMatch(/Viscosity +[\d.]+ to [\d.]+ times that at 27.5 °C/)
  })

  it('says least amount, steps told apart, or that none shows', () => {
    const row = (level: string, value: number, i: number) => ({
      level,
      value,
      standardUncertainty: 0.01,
      coupon: `slot ${i}`,
      photo: 'one',
      photoUncertainty: 0,
    })
    const cured = [0, 3, 6, 10, 20, 40].map((t, i) =>
      row(String(t), 0.3 - 0.2 * (1 - Math.exp(-t / 5)) + (i % 2 ? 0.001 : -0.001), i),
    )
    expect(processReport(valueOf(answerProcessLadder('post-cure-time', 'haze', cured)))).toMatch(
      /Haze index +falls by 0\.199 .* and levels off; 95 % of it after 1[45]\.?\d* min/,
    )
    const alike = ['a', 'a', 'b', 'b'].map((level, i) => row(level, i % 2, i))
    expect(processReport(valueOf(answerProcessLadder('coat', 'haze', alike)))).toContain(
      'no difference that this many coupons could show',
    )
  })
})

it('states flash points and lower explosive limits as the pocket guide prints them', () => {
  // NIOSH Pocket Guide npgd0359: isopropyl alcohol Fl.P 53 F, LEL 2.0 %; npgd0262: ethyl alcohol Fl.P 55 F, LEL 3.3 %.
  const inCelsius = (fahrenheit: number) => Math.round(((fahrenheit - 32) * 5) / 9)
  const { text } = english.cautions.solvent
  expect(text).toContain(`isopropanol flashes at ${inCelsius(53)} °C and its vapour burns from 2.0 % in air`)
  expect(text).toContain(`ethanol at ${inCelsius(55)} °C and from 3.3 %`)
})
