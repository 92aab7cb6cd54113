import sharp from 'sharp'
import { mean, median } from 'simple-statistics'
import { beforeAll, describe, expect, it } from 'vitest'
import { Value } from 'typebox/value'
import { ladderLayout, LadderReading, measureLadder, type ReadLadder, type ReadRung } from '../../analysis/index.js'
import { drawPhoto, type DrawPhotoOptions } from '../support/drawn-photo.js'
import { faultyPhotos } from '../support/drawn/faulty-photos.js'
import { drawPictureWithoutCard } from '../support/drawn/other-pictures.js'

// Drawn photographs (tests/support/drawn-photo.ts) share no code with the reader but the layout. 3024 x 2268 pixels: 51 um
// of the card a pixel, a third coarser than a 12-megapixel photograph, and drawn in a fraction of its time.
const resolution = { width: 3024, height: 2268 }
const exposuresS = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const layout = ladderLayout({ ladderId: 'TEST01', layerHeightUm: 50, pixelPitchUm: 34, exposuresS })
const DOSE_TO_SIZE_S = 2.7
const growthUm = (exposureS: number) => 45 * Math.log(exposureS / DOSE_TO_SIZE_S)
const printThroughUm = (exposureS: number) => 420 + 240 * Math.log(exposureS / DOSE_TO_SIZE_S)
const slots = Object.fromEntries(
  exposuresS.map((s, i) => [
    i + 1,
    {
      growthUm: growthUm(s),
      printThroughUm: printThroughUm(s),
      offsetMm: [0.4 * Math.sin(3 * i), 0.4 * Math.cos(2 * i)] as [number, number],
      rotationDeg: [1.2, -0.7, 0.4, -1.5, 0.9, -0.2][i] ?? 0,
    },
  ]),
)
const ladder: DrawPhotoOptions = {
  layout,
  resolution,
  slots,
  camera: { distanceMm: 400, tiltDeg: 5, azimuthDeg: 40, rollDeg: 2, k1: -0.012 },
}

const read = async (options: DrawPhotoOptions) => measureLadder((await drawPhoto(options)).file)
// A drawn coupon is flat: nothing of a groove's far wall shows beside it. What its edges read is compared, before the
// reader's allowance for that wall.
const edgeGrowthUm = ({ gratings }: ReadRung) => mean(gratings.map((grating) => grating.growthUm.value))
const edgeClosingUm = ({ gaps }: ReadRung) =>
  median(gaps.flatMap(({ nominalUm, gapUm }) => (gapUm ? [nominalUm - gapUm.value] : [])))
const refusalOf = (reading: LadderReading) => ('refusal' in reading ? reading.refusal.code : undefined)
const rungCodes = (reading: LadderReading) =>
  'rungs' in reading ? reading.rungs.map((rung) => ('refusal' in rung ? rung.refusal.code : 'read')) : []
const mustRead = (reading: LadderReading): ReadLadder => {
  if ('refusal' in reading) throw new Error(`refused: ${reading.refusal.code}`)
  return reading
}

describe('an ordinary drawn photograph', () => {
  let reading: ReadLadder
  const stages: string[] = []
  beforeAll(async () => {
    const { file } = await drawPhoto(ladder)
    reading = mustRead(await measureLadder(file, { keepProfiles: true }, ({ stage }) => stages.push(stage)))
  })

  it('gives a result that its published schema accepts', () => {
    expect(Value.Check(LadderReading, reading)).toBe(true)
    expect(stages[0]).toBe('decode')
    expect(stages.at(-1)).toBe('fit')
  })

  it('gives growth within 1 um per side and print-through within 3 um of what was drawn', () => {
    // 0.02 px of bias a photo and width is the physical goal at this pixel: 1 um. A gap has two edges and four times
    // fewer rows than a grating.
    for (const rung of reading.rungs) {
      if (!('growthUm' in rung)) throw new Error(`slot ${rung.slot} was not read`)
      expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(1)
      expect(Math.abs(edgeClosingUm(rung) - printThroughUm(rung.exposureS))).toBeLessThan(3)
    }
  })

  it('finds dose-to-size, the penetration depth and a suggestion on the time step', () => {
    expect(Math.abs((reading.doseToSize?.exposureS ?? NaN) / DOSE_TO_SIZE_S - 1)).toBeLessThan(0.02)
    const [low = NaN, high = NaN] = reading.doseToSize?.intervalS ?? []
    expect(low).toBeLessThan(DOSE_TO_SIZE_S)
    expect(high).toBeGreaterThan(DOSE_TO_SIZE_S)
    expect(Math.abs((reading.penetrationDepthUm?.value ?? NaN) - 240)).toBeLessThan(5)
    expect(reading.suggestion?.exposureS).toBe(2.7)
  })

  it('recovers the pose it was drawn from', () => {
    expect(reading.card.tiltDeg).toBeCloseTo(5, 1)
    expect(reading.card.radialDistortion).toBeCloseTo(-0.012, 3)
    // Disc centres are good to 0.05 px, here 2.6 um.
    expect(reading.card.residualUm).toBeLessThan(2.6)
    expect(reading.card.fiducialsFound).toBe(layout.card.fiducials.length)
  })
})

describe('what a camera and a printer add', () => {
  it('a tone curve of the camera is found on the card and taken out', async () => {
    const reading = mustRead(await read({ ...ladder, processing: { sCurve: 0.25 }, card: { inkGainUm: 8 } }))
    expect(reading.tone.contrast).toBeCloseTo(0.25, 1)
    expect(reading.tone.inkGainUm).toBeGreaterThan(4)
    // The drawn S-curve adds 2 s v (1 - v) (2 v - 1) to a code value v of sRGB: below one half that is negative.
    const curve = reading.tone.curve ?? []
    const lift = (from: number, to: number) =>
      curve.filter(({ srgbCodeValue: v }) => v > from && v < to).map((point) => point.codeValue - point.srgbCodeValue)
    expect(Math.max(...lift(0.1, 0.4))).toBeLessThan(0)
    expect(curve.at(-1)?.codeValue).toBeCloseTo(curve.at(-1)?.srgbCodeValue ?? NaN, 12)
    for (const rung of reading.rungs)
      // Left in, this curve moves every edge by 4 um per side at this pixel size.
      if ('growthUm' in rung) expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(2)
    expect(rungCodes(reading)).toEqual(Array(6).fill('read'))
  })

  it('ink that spreads until the finest lines touch leaves the tone curve alone', async () => {
    // Three lines of four dots at 600 dpi leave 42 um of paper between them: gone at 21 um an edge.
    const reading = mustRead(await read({ ...ladder, processing: { sCurve: 0.2 }, card: { inkGainUm: 26 } }))
    expect(reading.warnings).toEqual([])
    for (const rung of reading.rungs)
      if ('growthUm' in rung) expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(2)
    expect(rungCodes(reading)).toEqual(Array(6).fill('read'))
  })

  it('sharpening after a tone curve is seen, said, taken out, and widens the uncertainty', async () => {
    const plain = mustRead(await read(ladder))
    const processing = { sCurve: 0.25, sharpen: { amount: 0.9, radiusPx: 1.4 } }
    const sharp = mustRead(await read({ ...ladder, processing }))
    expect(plain.warnings).toEqual([])
    expect(sharp.warnings.map(({ code }) => code)).toEqual(['sharpened'])
    expect(Math.abs((sharp.tone.sharpening?.radiusPx ?? NaN) - 1.4)).toBeLessThan(0.2)
    expect(sharp.tone.contrast).toBeCloseTo(0.25, 1)
    for (const rung of sharp.rungs)
      // Left in, this mask moves every edge by 7 um per side at this pixel size.
      if ('growthUm' in rung) expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(2)
    expect(rungCodes(sharp)).toEqual(Array(6).fill('read'))
    const uncertainty = ({ rungs: [first] }: ReadLadder) =>
      first && 'growthUm' in first ? first.growthUm.standardUncertainty : NaN
    expect(uncertainty(sharp)).toBeGreaterThan(uncertainty(plain))
  })

  it('a mask too weak to overshoot is found by its edges and tone patches, and taken out', async () => {
    const sharp = mustRead(await read({ ...ladder, processing: { sharpen: { amount: 0.35, radiusPx: 1 } } }))
    expect(sharp.gates.find(({ gate }) => gate === 'overshoot')?.passed).toBe(true)
    expect(sharp.gates.find(({ gate }) => gate === 'sharpening')?.passed).toBe(false)
    expect(sharp.warnings.map(({ code }) => code)).toEqual(['sharpened'])
    for (const rung of sharp.rungs)
      // Left in, this mask moves every edge by 2 um per side at this pixel size.
      if ('growthUm' in rung) expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(1)
    expect(rungCodes(sharp)).toEqual(Array(6).fill('read'))
  })

  it.each([
    ['smoothing that spares edges', { denoise: { radiusPx: 1.5, range: 0.08 } }, 'smoothed'],
    ['a tone curve that follows the surroundings', { sharpen: { amount: 0.3, radiusPx: 40 } }, 'local-tone'],
  ])('%s is seen, said, and lies within what the wider uncertainty says', async (_, processing, code) => {
    const reading = mustRead(await read({ ...ladder, processing }))
    expect(reading.warnings.map((warning) => warning.code)).toContain(code)
    for (const rung of reading.rungs)
      if ('growthUm' in rung)
        expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(
          2 * rung.growthUm.standardUncertainty,
        )
  })

  it('a card printed 1 % too wide and 1 % too low leaves growth alone', async () => {
    const reading = mustRead(await read({ ...ladder, card: { scaleX: 1.01, scaleY: 0.99 } }))
    for (const rung of reading.rungs) {
      if (!('growthUm' in rung)) throw new Error(`slot ${rung.slot} was not read`)
      expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(1)
    }
  })

  it('a photograph stored turned by 90 degrees is read upright', async () => {
    const reading = mustRead(await read({ ...ladder, file: { orientation: 6 } }))
    expect(reading.photo).toEqual({ widthPx: resolution.width, heightPx: resolution.height })
    expect(rungCodes(reading)).toEqual(Array(6).fill('read'))
  })

  it('coupons inked on their lands are read as well', async () => {
    const reading = mustRead(await read({ ...ladder, coupon: { inked: 'lands' } }))
    for (const rung of reading.rungs) {
      if (!('growthUm' in rung)) throw new Error(`slot ${rung.slot} was not read`)
      expect(rung.inking).toBe('lands')
      expect(Math.abs(edgeGrowthUm(rung) - growthUm(rung.exposureS))).toBeLessThan(1)
    }
  })

  it('two covered discs do not matter', async () => {
    const reading = mustRead(await read({ ...ladder, card: { coveredFiducials: [0, 7] } }))
    expect(reading.card.fiducialsFound).toBe(layout.card.fiducials.length - 2)
    expect(rungCodes(reading)).toEqual(Array(6).fill('read'))
  })
})

describe('mistakes that people make', () => {
  it('coupons missing, turned, mirrored or not inked are refused by name and the others are read', async () => {
    const reading = await read({
      ...ladder,
      slots: {
        ...slots,
        2: { state: 'empty' },
        3: { state: 'turned' },
        4: { state: 'mirrored' },
        5: { state: 'not-inked' },
      },
    })
    expect(rungCodes(reading)).toEqual(['read', 'slot-empty', 'coupon-turned', 'coupon-mirrored', 'not-inked', 'read'])
    // Two readable rungs make no line: the answer is what to print next.
    expect(mustRead(reading).noSuggestion?.code).toBe('too-few-rungs')
    expect(mustRead(reading).noSuggestion?.nextLadder.exposuresS.length).toBeGreaterThan(2)
  })

  it('half the coupons missing still gives an answer from three', async () => {
    const half = faultyPhotos.halfMissing(layout)
    const reading = mustRead(await read({ ...ladder, slots: { ...slots, ...half.slots } }))
    expect(rungCodes(reading)).toEqual(['read', 'slot-empty', 'read', 'slot-empty', 'read', 'slot-empty'])
    expect(Math.abs((reading.doseToSize?.exposureS ?? NaN) / DOSE_TO_SIZE_S - 1)).toBeLessThan(0.05)
  })

  it('a ladder that lies wholly above dose-to-size names the ladder to print next', async () => {
    const grown = Object.fromEntries(exposuresS.map((s, i) => [i + 1, { growthUm: 30 + 45 * Math.log(s / 1.6) }]))
    const { suggestion, noSuggestion } = mustRead(await read({ ...ladder, slots: grown }))
    expect(suggestion).toBeUndefined()
    expect(noSuggestion?.code).toBe('not-bracketed-low')
    expect(Math.min(...(noSuggestion?.nextLadder.exposuresS ?? [Infinity]))).toBeLessThan(1.6)
  })

  it('an empty card is told slot by slot', async () => {
    expect(rungCodes(await read({ ...faultyPhotos.noCoupons(layout), resolution }))).toEqual(
      Array(6).fill('slot-empty'),
    )
  })

  it('a lamp mirrored in one coupon spoils that one alone', async () => {
    expect(rungCodes(await read({ ...ladder, ...faultyPhotos.glare(layout, 1) }))).toEqual([
      'glare',
      'read',
      'read',
      'read',
      'read',
      'read',
    ])
  })

  it.each([
    ['a cropped card', 'card-cropped', { ...faultyPhotos.cropped(layout), resolution }],
    ['two cards', 'two-cards', { ...faultyPhotos.twoCards(layout), resolution: { width: 4032, height: 3024 } }],
    ['a burnt-out picture', 'overexposed', { ...faultyPhotos.overexposed(layout), resolution }],
    [
      'a photograph too small for its grooves',
      'too-few-pixels-per-mm',
      { layout, resolution: { width: 2016, height: 1512 }, camera: { fillShare: 0.8 } },
    ],
  ] as const)('%s is refused as %s', async (_, code, options) => {
    const reading = await read(options)
    expect(refusalOf(reading)).toBe(code)
    if ('refusal' in reading) expect(reading.refusal.advice).toMatch(/\.$/)
  })

  it('a photograph out of focus is refused or its rungs are, never read', async () => {
    const reading = await read({ ...ladder, optics: { blurPx: 4 } })
    expect(rungCodes(reading).filter((code) => code === 'read')).toEqual([])
    if ('refusal' in reading) expect(['no-card', 'too-few-discs']).toContain(reading.refusal.code)
  })

  it.each(['table', 'screen'] as const)('a picture of a %s holds no card', async (kind) => {
    expect(refusalOf(await measureLadder(await drawPictureWithoutCard(kind)))).toBe('no-card')
  })

  it('what is no image, is cut off, too small or a bomb is refused by name', async () => {
    const { file } = await drawPhoto({ layout, resolution })
    expect(refusalOf(await measureLadder(new TextEncoder().encode('not a photograph')))).toBe('not-an-image')
    expect(refusalOf(await measureLadder(new Uint8Array()))).toBe('not-an-image')
    expect(refusalOf(await measureLadder(file.subarray(0, file.length >> 1)))).toBe('damaged-image')
    const small = await sharp(file).resize(800).jpeg().toBuffer()
    expect(refusalOf(await measureLadder(small))).toBe('too-few-pixels')
    // 200 megapixels of one colour pack into some kilobytes.
    const bomb = await sharp({
      create: { width: 20_000, height: 10_000, channels: 3, background: '#fff' },
      limitInputPixels: false,
    })
      .png({ compressionLevel: 9 })
      .toBuffer()
    expect(refusalOf(await measureLadder(bomb))).toBe('too-many-pixels')
  })
})
