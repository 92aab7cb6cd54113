import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { comparePhotos, measureLadder, spreadOfPhoto, type ReadLadder } from '../analysis/index.js'
import { SHARE_BEYOND } from './support/haze-truth.js'

// Simulated photographs (samples/README.md): path traced, put through a camera model, with the truth beside each. The
// laboratory that made them shares no code with the reader.
interface TrueRung {
  slot: number
  exposureS: number
  state: 'good' | 'empty' | 'turned' | 'mirrored' | 'not-inked'
  growthUm: number
  printThroughUm: number
  haze: number
  absorptionPerMm: [number, number, number]
  smallestLineUm: number | null
  smallestSpaceUm: number | null
}
interface Truth {
  treatment: string
  ladder: { doseToSizeS: number; penetrationDepthUm: number }
  rungs: TrueRung[]
}
interface Read {
  name: string
  truth: Truth
  reading: ReadLadder
}

const folder = join(import.meta.dirname, '../samples')
const names = readdirSync(folder)
  .filter((file) => file.endsWith('.jpg') && existsSync(join(folder, file.replace('.jpg', '.truth.json'))))
  .map((file) => file.replace('.jpg', ''))

const photos: Read[] = []
beforeAll(async () => {
  for (const name of names) {
    const reading = await measureLadder(readFileSync(join(folder, `${name}.jpg`)))
    if ('refusal' in reading) throw new Error(`${name} is refused: ${reading.refusal.code}`)
    const truth = JSON.parse(readFileSync(join(folder, `${name}.truth.json`), 'utf8')) as Truth
    photos.push({ name, truth, reading })
  }
}, 300_000)

const goodRungs = ({ name, truth, reading }: Read) =>
  truth.rungs
    .filter(({ state }) => state === 'good')
    .map((expected) => {
      const rung = reading.rungs.find(({ slot }) => slot === expected.slot)
      if (!rung || !('growthUm' in rung)) throw new Error(`${name}: slot ${expected.slot} is not read`)
      return { where: `${name}, slot ${expected.slot}`, expected, rung }
    })
const honest = () => photos.filter(({ truth }) => truth.treatment === 'honest')

/** Straight between the neighbours of `at`; points in rising order. */
function interpolate(points: readonly (readonly [number, number])[], at: number): number {
  const i = points.findIndex(([x]) => x >= at)
  const [[x0, y0], [x1, y1]] = [points[i - 1]!, points[i]!]
  return y0 + ((y1 - y0) * (at - x0)) / (x1 - x0)
}

describe('simulated photographs', () => {
  it('are at least ten honest ones, of four ladders', () => {
    expect(honest().length).toBeGreaterThanOrEqual(10)
    expect(new Set(photos.map(({ reading }) => reading.design.ladderId)).size).toBeGreaterThanOrEqual(4)
  })

  it('give growth within 6 um per side from an honest camera', () => {
    for (const { where, expected, rung } of honest().flatMap(goodRungs))
      expect(Math.abs(rung.growthUm.value - expected.growthUm), where).toBeLessThan(6)
  })

  it('give growth within four stated standard uncertainties from any camera', () => {
    for (const { where, expected, rung } of photos.flatMap(goodRungs)) {
      const { value, standardUncertainty } = rung.growthUm
      expect(Math.abs(value - expected.growthUm) / standardUncertainty, where).toBeLessThan(4)
    }
  })

  it('give print-through within 10 um or the stated 95 % interval in 95 % of readings', () => {
    const misses = honest()
      .flatMap(goodRungs)
      .map(({ expected, rung }) => {
        const { value = NaN, standardUncertainty = 0 } = rung.printThroughUm ?? {}
        return Math.abs(value - expected.printThroughUm) < Math.max(10, 1.96 * standardUncertainty)
      })
    expect(misses.filter(Boolean).length / misses.length).toBeGreaterThanOrEqual(0.95)
  })

  it('give dose-to-size within 5 %, and inside the stated interval in nine of ten', () => {
    const bracketed = honest().filter(({ reading }) => reading.doseToSize)
    const inside = bracketed.map(({ name, truth, reading }) => {
      const { exposureS, intervalS } = reading.doseToSize ?? { exposureS: NaN, intervalS: [NaN, NaN] }
      expect(Math.abs(exposureS / truth.ladder.doseToSizeS - 1), name).toBeLessThan(0.05)
      return intervalS[0] <= truth.ladder.doseToSizeS && truth.ladder.doseToSizeS <= intervalS[1]
    })
    expect(inside.length).toBeGreaterThan(5)
    expect(inside.filter(Boolean).length / inside.length).toBeGreaterThanOrEqual(0.9)
  })

  it('say what survives: never a line or space that is gone, and the narrowest that truly stands or the next wider', () => {
    const widths = [102, 136, 204, 306, 408, 612, 816]
    for (const { where, expected, rung } of honest().flatMap(goodRungs)) {
      if (expected.smallestLineUm === null || expected.smallestSpaceUm === null) continue
      const step = (um: number | null) => widths.findIndex((w) => Math.abs(w - (um ?? NaN)) < 0.2 * w)
      for (const [found, truth] of [
        [rung.smallestLineUm, expected.smallestLineUm],
        [rung.smallestSpaceUm, expected.smallestSpaceUm],
      ] as const) {
        expect(step(found) - step(truth), where).toBeGreaterThanOrEqual(0)
        expect(step(found) - step(truth), where).toBeLessThanOrEqual(1)
      }
    }
  })

  it('are warned of when the camera sharpened them', () => {
    for (const { name, truth, reading } of photos)
      expect(
        reading.warnings.some(({ code }) => code === 'sharpened'),
        name,
      ).toBe(truth.treatment === 'phone')
  })

  const hazeErrors = () =>
    honest()
      .flatMap(goodRungs)
      .flatMap(({ where, expected, rung }) =>
        rung.haze ? [{ where, error: rung.haze.value - SHARE_BEYOND * expected.haze, ...rung.haze }] : [],
      )

  it('give haze within 6 points from an honest camera, and inside the stated 95 % interval in nine of ten', () => {
    const errors = hazeErrors()
    expect(errors.length).toBeGreaterThanOrEqual(50)
    for (const { where, error } of errors) expect(Math.abs(error), where).toBeLessThan(0.06)
    const inside = errors.filter(({ error, standardUncertainty }) => Math.abs(error) < 1.96 * standardUncertainty)
    expect(inside.length / errors.length).toBeGreaterThanOrEqual(0.9)
  })

  it('read every window, those too that leave an end of the bars uncovered', () => {
    for (const { where, rung } of photos.flatMap(goodRungs)) expect(rung.haze, where).toBeDefined()
  })

  it('give yellowness inside the stated 95 % interval in nine of ten, of honest and of finished photographs', () => {
    for (const treatment of ['honest', 'phone']) {
      const off = photos
        .filter(({ truth }) => truth.treatment === treatment)
        .flatMap(goodRungs)
        .flatMap(({ expected: { absorptionPerMm: a }, rung: { yellownessPerMm } }) =>
          yellownessPerMm
            ? [(yellownessPerMm.value - (a[2] - a[0]) * Math.LOG10E) / yellownessPerMm.standardUncertainty]
            : [],
        )
      expect(off.length, treatment).toBeGreaterThanOrEqual(12)
      expect(off.filter((z) => Math.abs(z) < 1.96).length / off.length, treatment).toBeGreaterThanOrEqual(0.9)
    }
  })

  it('expect haze and yellowness of the suggested exposure within the stated 95 % intervals', () => {
    for (const { name, truth, reading } of honest()) {
      const { exposureS, expectedHaze, expectedYellownessPerMm } = reading.suggestion!
      // Truth goes nearly straight with the logarithm of exposure from one rung to the next.
      const trueAt = (of: (rung: TrueRung) => number) =>
        interpolate(
          truth.rungs.map((rung) => [Math.log(rung.exposureS), of(rung)]),
          Math.log(exposureS),
        )
      for (const [what, expected, trueValue] of [
        ['haze', expectedHaze, trueAt(({ haze }) => SHARE_BEYOND * haze)],
        [
          'yellowness',
          expectedYellownessPerMm,
          trueAt(({ absorptionPerMm: [red, , blue] }) => (blue - red) * Math.LOG10E),
        ],
      ] as const)
        expect(Math.abs(expected!.value - trueValue), `${name}, ${what}`).toBeLessThan(
          1.96 * expected!.standardUncertainty,
        )
    }
  })

  it('show the same haze however one frame was finished, to the stated spread between photographs', () => {
    let [squares, degrees] = [0, 0]
    let stated = 0
    for (const [i, one] of honest().entries())
      for (const other of honest().slice(i + 1)) {
        if (one.reading.design.ladderId !== other.reading.design.ladderId) continue
        expect(comparePhotos(one.reading, other.reading), `${one.name} and ${other.name}`).toEqual([])
        stated = Math.hypot(spreadOfPhoto(one.reading).haze, spreadOfPhoto(other.reading).haze)
        for (const [k, rung] of one.reading.rungs.entries()) {
          const beside = other.reading.rungs[k]!
          if (!('growthUm' in rung) || !rung.haze || !('growthUm' in beside) || !beside.haze) continue
          squares += (rung.haze.value - beside.haze.value) ** 2
          degrees++
        }
      }
    expect(degrees).toBeGreaterThan(30)
    const seen = Math.sqrt(squares / degrees)
    // Neither too small nor so wide that it says nothing; 40 differences know a spread to 11 %.
    expect(seen / stated).toBeLessThan(1.25)
    expect(seen / stated).toBeGreaterThan(0.75)
  })

  it('are not to be compared with the same frame as a phone finishes it, without a warning', () => {
    const reading = (name: string) => photos.find((photo) => photo.name === name)!.reading
    for (const name of ['demo-ladder', 'closed-and-broken'])
      expect(comparePhotos(reading(name), reading(`${name}-phone`)).map(({ code }) => code)).toContain(
        'photos-differ-in-finish',
      )
  })

  it('show no defects in windows that have none, from an honest camera', () => {
    for (const { where, rung } of honest().flatMap(goodRungs))
      expect(rung.window?.defects.length ?? 0, where).toBeLessThanOrEqual(1)
  })
})
