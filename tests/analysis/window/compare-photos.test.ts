import { describe, expect, it } from 'vitest'
import { comparePhotos, spreadOfPhoto } from '../../../analysis/index.js'
import type { ReadLadder } from '../../../analysis/result.js'
import { answered as sharpened, windowDetail } from '../../support/reading-fixture.js'

const { exponent, contrast, inkGainUm, patches } = sharpened.tone
const answered: ReadLadder = {
  ...sharpened,
  tone: { exponent, contrast, inkGainUm, patches },
  gates: sharpened.gates.map((gate) => ({ ...gate, passed: true })),
}

const codes = (other: ReadLadder) => comparePhotos(answered, other).map(({ code }) => code)
const withPaper = (codeValue: number): ReadLadder => ({
  ...answered,
  tone: {
    ...answered.tone,
    patches: [{ coverage: 0, pitchMm: 1, codeValue, expectedLight: 1, readLight: 1 }],
  },
})

describe('two photographs are compared', () => {
  it('without a warning when they are taken alike', () => {
    expect(codes(answered)).toEqual([])
  })

  it('with a warning when one was taken from further off', () => {
    const far = (times: number) => ({ ...answered, card: { ...answered.card, umPerPx: times * answered.card.umPerPx } })
    expect(codes(far(1.2))).toEqual([])
    expect(codes(far(1.3))).toEqual(['photos-differ-in-scale'])
    expect(codes(far(1 / 1.3))).toEqual(['photos-differ-in-scale'])
  })

  it('with a warning when one was taken at a slant', () => {
    const rungs = answered.rungs.map((rung) =>
      'growthUm' in rung ? { ...rung, offAxisDeg: rung.offAxisDeg + 11 } : rung,
    )
    expect(codes({ ...answered, rungs })).toEqual(['photos-differ-in-angle'])
  })

  it('with a warning when one is much darker', () => {
    const warned = comparePhotos(withPaper(0.8), withPaper(0.4)).map(({ code }) => code)
    // sRGB (IEC 61966-2-1): code 0.8 is light 0.604, 0.4 is 0.133; 0.6 is 0.319.
    expect(warned).toEqual(['photos-differ-in-light'])
    expect(comparePhotos(withPaper(0.8), withPaper(0.6))).toEqual([])
  })

  it('with a warning and a wider term when the camera finished one of them', () => {
    const smoothed: ReadLadder = {
      ...answered,
      gates: [{ gate: 'noise-correlation', value: 0.5, limit: 0.33, passed: false }],
    }
    expect(codes(smoothed)).toEqual(['photos-differ-in-finish'])
    for (const of of ['haze', 'surface', 'yellowness', 'score'] as const)
      expect(spreadOfPhoto(smoothed)[of], of).toBeGreaterThan(1.4 * spreadOfPhoto(answered)[of])
  })

  it('with a warning when windows mirror more light on one', () => {
    const mirroring = (value: number): ReadLadder => ({
      ...answered,
      rungs: answered.rungs.map((rung) =>
        'growthUm' in rung
          ? { ...rung, window: { ...windowDetail, mirroredLight: { value, standardUncertainty: 0 } } }
          : rung,
      ),
    })
    const warned = (b: number) => comparePhotos(mirroring(0.06), mirroring(b)).map(({ code }) => code)
    expect(warned(0.09)).toEqual([])
    expect(warned(0.13)).toEqual(['photos-differ-in-mirrored-light'])
  })
})
