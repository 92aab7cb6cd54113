import { sampleStandardDeviation } from 'simple-statistics'
import { beforeAll, expect, it } from 'vitest'
import type { WindowReading } from '../../../analysis/window/read-window.js'
import { colourOfResin } from '../../../analysis/window/yellowness.js'
import { alikeNames, readScene, type TrueWindow } from '../../support/window-crops.js'

// Simulated: path-traced crops (samples/windows/alike.json) of two windows whose scattered share beyond 2.5 degrees differs by
// 1.5 points, in the same slots of one card under three lights, seen from three places, each developed in three ways by an
// honest camera; and five tints. One window of the scene pair-sky is refused for what it mirrors.
interface Read extends WindowReading {
  readonly scene: string
  /** Light and view. */
  readonly light: string
  readonly truth: TrueWindow
}
const read: Read[] = []
const refused: string[] = []
beforeAll(async () => {
  for (const scene of alikeNames)
    for (const { truth, reading } of await readScene(scene))
      if (reading.ok) read.push({ scene, light: scene.replace(/-(soft|grain)$/, ''), truth, ...reading.value })
      else refused.push(`${scene} ${truth.slot} ${reading.refusal.code}`)
}, 60_000)

const pairs = () => read.filter(({ scene }) => scene.startsWith('pair'))
const of = (light: string, slot: number) =>
  pairs()
    .filter((one) => one.light === light && one.truth.slot === slot)
    .map(({ fitted }) => fitted.haze.value)
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
const trueDeltaB = ({ absorptionPerMm }: TrueWindow) => {
  const logs = absorptionPerMm.map((a) => -3 * a * Math.LOG10E) as [number, number, number]
  return colourOfResin(logs, 0, { thicknessMm: 3, pathMm: 3, relativeUncertainty: 0 }).deltaB.value
}

it('is read in all but one window, which mirrors something', () => {
  expect(refused).toEqual(['', '-soft', '-grain'].map((how) => `pair-sky${how} 5 glare-in-window`))
})

it('reads haze within 0.7 points (standard deviation) however the camera developed one frame', () => {
  const frames = [of('pair-left', 2), of('pair-left', 5), of('pair-sky', 2), of('pair-back', 2), of('pair-back', 5)]
  const pooled = Math.sqrt(mean(frames.map((values) => sampleStandardDeviation(values) ** 2)))
  expect(frames.every((values) => values.length === 3)).toBe(true)
  // Measured: 0.45 points.
  expect(pooled).toBeLessThan(0.007)
})

it('orders two bottles 1.5 points apart on photographs of one light, whichever way each was developed', () => {
  for (const light of ['pair-left', 'pair-back'])
    for (const clearer of of(light, 2)) for (const hazier of of(light, 5)) expect(hazier).toBeGreaterThan(clearer)
})

it('does not read haze within 0.7 points under other lights: it spreads by 1 to 1.7, inside what it states', () => {
  // Missed: the goal is 0.7 over lights and tilts. Measured: 1.3. Bottles are to be compared on one card, or in one light.
  const bySlot = [2, 5].map((slot) =>
    ['pair-left', 'pair-sky', 'pair-back'].flatMap((light) => {
      const values = of(light, slot)
      return values.length > 0 ? [mean(values)] : []
    }),
  )
  for (const means of bySlot) {
    expect(sampleStandardDeviation(means)).toBeGreaterThan(0.01)
    expect(sampleStandardDeviation(means)).toBeLessThan(0.017)
  }
  for (const { fitted, truth, scene } of pairs())
    expect(Math.abs(fitted.haze.value - truth.sharePastDeg['2.5']), scene).toBeLessThan(
      1.96 * fitted.haze.standardUncertainty,
    )
})

it('gives delta b* within 0.7 under every light, white balance and development', () => {
  expect(pairs().length).toBe(15)
  for (const { scene, truth, yellowness } of pairs())
    expect(Math.abs(yellowness.deltaB.value - trueDeltaB(truth)), scene).toBeLessThan(0.7)
})

it('orders five tints by yellowness, with delta b* within 0.7', () => {
  const tints = read.filter(({ scene }) => scene === 'five-tints')
  expect(tints.length).toBe(5)
  for (const [i, { yellowness, truth }] of tints.entries()) {
    expect(Math.abs(yellowness.deltaB.value - trueDeltaB(truth)), `tint ${i + 1}`).toBeLessThan(0.7)
    if (i > 0) {
      expect(yellowness.deltaB.value).toBeGreaterThan(tints[i - 1]!.yellowness.deltaB.value)
      expect(yellowness.perMm.value).toBeGreaterThan(tints[i - 1]!.yellowness.perMm.value)
    }
  }
})
