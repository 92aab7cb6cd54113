import { describe, expect, it } from 'vitest'
import type { FirstLadderReply, LampReply, LayerHeightReply, WorkingCurveReply } from '../../server/api/planning.js'
import { answerFirstLadder, answerLamp, answerLayerHeight, answerWorkingCurve } from '../../server/planning.js'
import {
  firstLadderReport,
  lampReport,
  layerHeightReport,
  workingCurveReport,
} from '../../server/report/planning-report.js'
import type { ReadLadder } from '../../analysis/index.js'
import { answered } from '../support/reading-fixture.js'
import { valueOf } from '../support/outcomes.js'
import { startService } from './support/service.js'

const table = 'dose;depth\n5;37\n7;71\n10;118\n14;152\n20;205\n28;241\n40;298\n56;327\n80;385\n112;420\n'
const reading = answered

describe('the service', () => {
  it('carries an exposure to another layer height', async () => {
    const service = await startService()
    const change = { exposureS: 2, fromUm: 50, toUm: 30, depth: { valueUm: 300, intervalUm: [300, 300] } }
    const reply = await service.post('/api/layer-height', change)
    expect(reply.statusCode, reply.body).toBe(200)
    const answer = reply.json<LayerHeightReply>()
    // Ratios of the layer-transfer table: 0.935507 and 0.619878.
    expect(answer.bond.exposureS).toBeCloseTo(2 * 0.935507, 5)
    expect(answer.accumulated.exposureS).toBeCloseTo(2 * 0.619878, 5)
    const missing = await service.post('/api/layer-height', { toUm: 30 })
    expect([missing.statusCode, missing.json<{ code: string }>().code]).toEqual([400, 'invalid-request'])
    expect((await service.post('/api/layer-height', { toUm: 30, readingIds: ['none'] })).statusCode).toBe(404)
  })

  it('fits a pasted working curve, and says why it cannot', async () => {
    const service = await startService()
    const reply = await service.post('/api/working-curve', { table, forDepthUm: 150 })
    expect(reply.statusCode, reply.body).toBe(200)
    const curve = reply.json<WorkingCurveReply>()
    // The worked curve of tests/reference/synthetic-working-curve.json.
    expect(curve.criticalDoseMjPerCm2).toBeCloseTo(3.9223024529571804, 9)
    expect(curve.forDepth!.doseMjPerCm2).toBeCloseTo(12.971381846416401, 9)
    expect(curve.advice[0]).toMatchObject({ line: 2, why: 'soft-gel' })
    const empty = await service.post('/api/working-curve', { table: 'none' })
    expect(empty.statusCode).toBe(422)
    expect(empty.json()).toMatchObject({ code: 'no-numbers', advice: expect.stringContaining('Paste') as string })
  })

  it('plans the first ladder with order and time', async () => {
    const service = await startService()
    const reply = await service.post('/api/ladders/first', { layerHeightUm: 50, known: { kind: 'nothing' } })
    expect(reply.statusCode, reply.body).toBe(200)
    const { exposuresS, printOrder, printTimesS } = reply.json<FirstLadderReply>()
    expect([...printOrder].sort((a, b) => a - b)).toEqual(exposuresS.map((_, i) => i + 1))
    expect(printOrder).not.toEqual(exposuresS.map((_, i) => i + 1))
    expect(printTimesS).toHaveLength(exposuresS.length)
    expect(
      (await service.post('/api/ladders/first', { layerHeightUm: 50, known: { kind: 'rumour' } })).statusCode,
    ).toBe(400)
  })

  it('carries a dose to another lamp', async () => {
    const service = await startService()
    const body = { exposureS: 2, from: { mwPerCm2: 3 }, to: { mwPerCm2: 2 }, reason: 'ageing' }
    const { exposureS, doseMjPerCm2 } = (await service.post('/api/lamp', body)).json<LampReply>()
    expect(exposureS).toBeCloseTo(3, 12)
    expect(doseMjPerCm2.value).toBe(6)
  })

  it('knows no expectation of a reading that is not there', async () => {
    const service = await startService()
    expect((await service.get('/api/readings/none/expected?exposureS=2')).statusCode).toBe(404)
  })
})

describe('in words', () => {
  it('tells both rules, what each risks and what to print', () => {
    const text = layerHeightReport(valueOf(answerLayerHeight([reading], { toUm: 30 })))
    expect(text).toMatch(/^Layer height +50 to 30 µm: Between/)
    expect(text).toContain('Same bond')
    expect(text).toMatch(/layers may bond weakly/)
    expect(text).toMatch(/Print next +[\d., ]+ s at 30 µm$/)
  })

  it('fits ladders at two heights, and warns when their temperatures differ', () => {
    const thin: ReadLadder = {
      ...reading,
      design: { ...reading.design, layerHeightUm: 30 },
      doseToSize: { ...reading.doseToSize!, exposureS: 1.6, intervalS: [1.5, 1.7] },
      resinTemperatureC: 21,
    }
    const answer = valueOf(answerLayerHeight([{ ...reading, resinTemperatureC: 27 }, thin], { toUm: 40 }))
    expect(answer.ladders!.exposureS).toBeGreaterThan(1.6)
    expect(answer.ladders!.exposureS).toBeLessThan(reading.doseToSize!.exposureS)
    expect(answer.warnings.map(({ code }) => code)).toEqual(['temperatures-differ'])
    expect(layerHeightReport(answer)).toContain('From the ladders')
  })

  it('tells the curve, its doubts and the lines to look at', () => {
    const text = workingCurveReport(valueOf(answerWorkingCurve(`${table}broken;line\n`, { forDepthUm: 150 })))
    expect(text).toContain('125 µm, 95 % interval 121 to 130 µm')
    expect(text).toContain('3.92 mJ/cm², 95 % interval 3.65 to 4.2 mJ/cm²')
    expect(text).toMatch(/Line 2 +Its dose is under 1.3 times Ec/)
    expect(text).toMatch(/Line 12 +left out: no two numbers/)
  })

  it('tells the ladder in the order to print it, and the lamp with its caution', () => {
    const plan = answerFirstLadder({ layerHeightUm: 50, known: { kind: 'nothing' } })
    expect(firstLadderReport(plan)).toContain(
      plan.printOrder.map((rung) => `${plan.exposuresS[rung - 1]} s`).join(', '),
    )
    const lamp = answerLamp({ exposureS: 2, from: { mwPerCm2: 3 }, to: { mwPerCm2: 2 }, reason: 'printer' })
    expect(lampReport(lamp)).toContain('A start for a ladder, not a setting')
  })
})
