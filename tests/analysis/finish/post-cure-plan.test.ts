import { expect, it } from 'vitest'
import { assumed } from '../../../analysis/finish/assumed.js'
import { planPostCure, type PostCureRequest } from '../../../analysis/finish/post-cure-plan.js'
import { valueOf } from '../../support/outcomes.js'

const request: PostCureRequest = {
  irradianceMwPerCm2: 40,
  doseJPerCm2: 12,
  thicknessMm: 6,
  surroundings: 'still-air',
  surroundingsC: 22,
  bothSides: false,
}

it('cuts the light into stages that keep the part under the limit and give the whole dose', () => {
  const { stages, heat, lightS } = valueOf(planPostCure({ ...request, limitC: 45 }))
  expect(stages.length).toBeGreaterThan(2)
  expect(heat.peakC).toBeLessThanOrEqual(45)
  // 12 J/cm2 / 40 mW/cm2 = 300 s a face, to whole seconds a stage.
  expect(lightS).toBeGreaterThan(297)
  expect(lightS).toBeLessThan(300 + stages.length)
  expect(heat.frontDoseJPerCm2.at(-1)).toBeCloseTo((lightS * 40) / 1000, 8)
})

it('turns the part after each stage unless the lamp reaches both faces', () => {
  const turned = valueOf(planPostCure(request)).stages.map(({ side }) => side)
  expect(turned.slice(0, 2)).toEqual(['front', 'back'])
  expect(turned.filter((side) => side === 'front')).toHaveLength(turned.length / 2)
  const both = valueOf(planPostCure({ ...request, bothSides: true, limitC: 90 })).stages
  expect(new Set(both.map(({ side }) => side))).toEqual(new Set(['both']))
})

it('needs fewer stages in water, and trusts conduction there', () => {
  const air = valueOf(planPostCure({ ...request, limitC: 45 }))
  const water = valueOf(planPostCure({ ...request, limitC: 45, surroundings: 'water' }))
  expect(water.totalS).toBeLessThan(air.totalS)
  expect(water.trusted).toBe('conduction')
  // Bi = h (L / 2) / k = 300 x 0.003 / 0.2.
  expect(water.biot).toBeCloseTo(4.5, 10)
  expect(water.warnings.map(({ code }) => code)).toContain('dry-after-water')
})

it('names every value nobody gave with what it rests on, and leaves out what was given', () => {
  const taken = (more: Partial<PostCureRequest>) => valueOf(planPostCure({ ...request, ...more })).assumed
  expect(taken({ limitC: undefined })).toEqual(
    assumed(
      ...(['penetrationMm', 'exothermJPerCm3', 'exothermDoseJPerCm2', 'conductivityWPerMK'] as const),
      ...(['heatCapacityMJPerM3K', 'stillAirWPerM2K', 'limitC'] as const),
    ),
  )
  expect(taken({})[0]).toEqual({ what: 'penetrationMm', value: 1.5, unit: 'mm', basis: 'guess' })
  const given = taken({ penetrationMm: 3, exothermJPerCm3: 20, limitC: 50, surroundings: 'water' })
  expect(given.map(({ what }) => what)).toEqual([
    ...['exothermDoseJPerCm2', 'conductivityWPerMK', 'heatCapacityMJPerM3K', 'waterWPerM2K'],
  ])
})

it('warns of a middle that gets less than half the light', () => {
  // 1 / cosh(L / 2D) at L = 6, D = 1.5: 0.27; at D = 10: 0.96.
  const codes = (penetrationMm: number) =>
    valueOf(planPostCure({ ...request, penetrationMm })).warnings.map(({ code }) => code)
  expect(codes(1.5)).toContain('middle-underdosed')
  expect(codes(10)).not.toContain('middle-underdosed')
})

it('refuses a bath at the limit, a lamp too weak and a lamp no rest makes up for', () => {
  // 12 J/cm2 at 1 mW/cm2 are 12 000 s a face.
  expect(planPostCure({ ...request, irradianceMwPerCm2: 1 })).toMatchObject({ refusal: { code: 'too-long' } })
  expect(planPostCure({ ...request, surroundingsC: 60 })).toMatchObject({ refusal: { code: 'bath-too-warm' } })
  expect(planPostCure({ ...request, irradianceMwPerCm2: 3000, limitC: 30, doseJPerCm2: 300 })).toMatchObject({
    refusal: { code: 'too-hot' },
  })
})
