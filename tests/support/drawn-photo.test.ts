import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { RectMm } from '../../analysis/layout/schema.js'
import {
  drawPhoto,
  drawPictureWithoutCard,
  faultyPhotos,
  type DrawPhotoOptions,
  type PhotoTruth,
} from './drawn-photo.js'
import { placed, planeAt, projectMm } from './drawn/camera.js'

const layout = ladderLayout({
  ladderId: 'K7Q2XN',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1.6, 2, 2.5, 3.1, 3.9, 4.9],
})
const small = { width: 640, height: 480 }

/** A photo of the first slot alone, with no noise and even light, as linear levels. */
async function firstSlot(umPerPx: number, options: Partial<DrawPhotoOptions> = {}) {
  const [x, y] = layout.card.slots[0]?.originMm ?? [0, 0]
  const resolution = { width: Math.round(61_000 / umPerPx), height: Math.round(19_000 / umPerPx) }
  const { file, truth } = await drawPhoto({
    layout,
    resolution,
    camera: { distanceMm: 400, focalPx: 392_000 / umPerPx, aimMm: [x + 28, y + 6.5], rollDeg: 1.3 },
    optics: { lightGradient: [0, 0], vignetting: 0 },
    sensor: { fullWellE: Infinity },
    file: { format: 'raw' },
    ...options,
    coupon: { featureShadow: 0, haze: 0, veil: 0, absorbancePerMm: [0, 0, 0], ...options.coupon },
  })
  /** Linear level (IEC 61966-2-1) of the green byte. */
  const levels = Float64Array.from({ length: resolution.width * resolution.height }, (_, i) => {
    const v = (file[3 * i + 1] as number) / 255
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
  })
  return { levels, resolution, truth }
}

/** Mean level over a rectangle of the first coupon's face, or of the card. */
function meanLevel(photo: Awaited<ReturnType<typeof firstSlot>>, rect: RectMm, on: 'face' | 'card'): number {
  const { levels, resolution, truth } = photo
  const placement = truth.slots[0]?.placement
  if (!placement) throw new Error('no first slot')
  const map = on === 'face' ? placed(planeAt(truth.camera, 8), placement) : planeAt(truth.camera, 0)
  const place = new Float64Array(2)
  let [sum, count] = [0, 0]
  for (let row = 0; row < resolution.height; row++)
    for (let column = 0; column < resolution.width; column++) {
      map.toPlane(column, row, place)
      const [u = 0, v = 0] = place
      if (u < rect.x0 || u > rect.x1 || v < rect.y0 || v > rect.y1) continue
      sum += levels[row * resolution.width + column] as number
      count++
    }
  return sum / count
}

describe('a coupon', () => {
  const grating = layout.coupon.gratings[1]
  const pitch = grating?.pitchMm ?? 0
  const x0 = grating?.x0Mm ?? 0
  const rows = { y0: 8.6, y1: 11.2 }

  it.each([
    [0, 'grooves'],
    [25, 'grooves'],
    [25, 'lands'],
  ] as const)('grown by %f um with inked %s has grooves narrower by twice that', async (growthUm, inked) => {
    const photo = await firstSlot(36, { coupon: { growthUm, inked } })
    // Whole pitches between middles of lands, so that blur loses no light over the ends.
    const mean = meanLevel(photo, { x0: x0 + 0.75 * pitch, x1: x0 + 6.75 * pitch, ...rows }, 'face')
    const groove = meanLevel(photo, { x0: x0 + 3.2 * pitch, x1: x0 + 3.3 * pitch, ...rows }, 'face')
    const land = meanLevel(photo, { x0: x0 + 3.7 * pitch, x1: x0 + 3.8 * pitch, ...rows }, 'face')
    const widthUm = (1000 * pitch * (land - mean)) / (land - groove)
    // 8 bits, and a clear level that rises by 0.5 % over the grating: 1.5 um.
    expect(Math.abs(widthUm - (500 * pitch - 2 * growthUm))).toBeLessThan(1.5)
  })

  it('keeps 1 - haze of the contrast of the bars below, over the same lightness', async () => {
    const window = layout.card.slots[0]?.windowTarget
    const dark = window?.blackMm as RectMm
    const bright = window?.whiteMm as RectMm
    const core = ({ x0, y0, x1, y1 }: RectMm): RectMm => ({ x0: x0 + 0.5, x1: x1 - 0.5, y0: y0 + 0.5, y1: y1 - 0.5 })
    const contrast = async (haze: number): Promise<number> => {
      // Aimed at the window, whose rays then pass upright and fall where they would without the coupon.
      const photo = await firstSlot(72, {
        coupon: { haze, hazeSpreadMm: 60 },
        camera: { distanceMm: 400, focalPx: 392_000 / 72, aimMm: [dark.x0, dark.y0] },
      })
      return meanLevel(photo, core(bright), 'card') - meanLevel(photo, core(dark), 'card')
    }
    // A spread of 60 mm makes the local mean the same for both patches; 8 bits at this level are 0.3 % of the contrast.
    expect((await contrast(0.2)) / (await contrast(0))).toBeCloseTo(0.8, 2)
  })

  it('is yellow by the stated absorbance', async () => {
    const { file, truth } = await drawPhoto({
      layout,
      resolution: small,
      coupon: { absorbancePerMm: [0, 0.01, 0.05], veil: 0, haze: 0, featureShadow: 0 },
      sensor: { fullWellE: Infinity },
      file: { format: 'raw' },
    })
    const [x, y] = layout.card.slots[0]?.originMm ?? [0, 0]
    const { column, row } = projectMm(truth.camera, [x + 26, y + 11, 8])
    const at = 3 * (Math.round(row) * small.width + Math.round(column))
    const linear = (byte = 0): number => ((byte / 255 + 0.055) / 1.055) ** 2.4
    expect(truth.slots[0]?.yellownessPerMm).toBeCloseTo(0.05, 9)
    // One step of 255 at this level is 1 % of light: 0.0045 in the logarithm of a ratio, over 3 mm.
    expect(Math.log10(linear(file[at]) / linear(file[at + 2])) / 3).toBeCloseTo(0.05, 2)
  })

  it('that is empty, turned, mirrored or not inked shows its key where it should', async () => {
    const key = { x0: 1.2, x1: 3, y0: 8.9, y1: 11.3 }
    const elsewhere = { x0: 42 - 3, x1: 42 - 1.2, y0: 13 - 11.3, y1: 13 - 8.9 }
    const reading = async (state: 'good' | 'empty' | 'turned' | 'mirrored' | 'not-inked') => {
      const photo = await firstSlot(120, { coupon: { state } })
      const good = { ...photo, truth: { ...photo.truth, slots: reference.truth.slots } }
      const isDark = (rect: RectMm): boolean => meanLevel(good, rect, 'face') < 0.1
      const { x0, x1, y0, y1 } = elsewhere
      return [key, elsewhere, { x0, x1, y0: 13 - y1, y1: 13 - y0 }].map(isDark)
    }
    const reference = await firstSlot(120)
    expect(await reading('good')).toEqual([true, false, false])
    expect(await reading('turned')).toEqual([false, true, false])
    expect(await reading('mirrored')).toEqual([false, false, true])
    expect(await reading('empty')).toEqual([false, false, false])
    expect(await reading('not-inked')).toEqual([false, false, false])
  })
})

/** Centre of the darkness round a place of the picture. */
function darkCentre(levels: Uint8Array, width: number, truth: PhotoTruth['fiducials'][number], radius: number) {
  let [sum, column, row] = [0, 0, 0]
  for (let r = Math.round(truth.row) - radius; r <= truth.row + radius; r++)
    for (let c = Math.round(truth.column) - radius; c <= truth.column + radius; c++) {
      const dark = Math.max(0, 255 - (levels[3 * (r * width + c)] as number) - 60)
      sum += dark
      column += dark * c
      row += dark * r
    }
  return { column: column / sum, row: row / sum }
}

it('puts the discs where the truth says, print scale and distortion included', async () => {
  const { file, truth } = await drawPhoto({
    layout,
    camera: { tiltDeg: 4, azimuthDeg: 60, rollDeg: 3, k1: -0.03, k2: 0.01 },
    card: { scaleX: 1.01, scaleY: 0.99, coveredFiducials: [4] },
    coupon: { state: 'empty' },
    optics: { lightGradient: [0, 0], vignetting: 0 },
    sensor: { fullWellE: Infinity },
    file: { format: 'raw' },
  })
  expect(truth.fiducials.map(({ covered }) => covered).indexOf(true)).toBe(4)
  for (const fiducial of truth.fiducials.filter(({ covered }) => !covered)) {
    const { column, row } = darkCentre(file, 2016, fiducial, 36)
    // A disc's image stands off that of its centre: by tilt f (r / z)^2 tan 4 deg = 0.01 px, by distortion up to
    // 3 k1 (R / half-diagonal)^2 of the distance from the middle, 0.04 px.
    expect(Math.hypot(column - fiducial.column, row - fiducial.row)).toBeLessThan(0.05)
  }
})

it('draws a code that a reader of codes reads, with ink spread over the edges of its modules', async () => {
  const { resolve } = createRequire(import.meta.url)
  const { buffer } = new Uint8Array(readFileSync(resolve('zxing-wasm/reader/zxing_reader.wasm')))
  void prepareZXingModule({ overrides: { wasmBinary: buffer } })
  for (const inkGainUm of [0, 60]) {
    const { file } = await drawPhoto({ layout, card: { inkGainUm } })
    const [code] = await readBarcodes(file, { formats: ['QRCode'] })
    expect(code?.text).toBe(layout.card.code.payload)
  }
})

it('gives the same bytes for the same options, others for another seed', async () => {
  const options = { layout, resolution: small }
  const [one, two, three] = await Promise.all([
    drawPhoto(options),
    drawPhoto(options),
    drawPhoto({ ...options, seed: 2 }),
  ])
  expect(one.file.equals(two.file)).toBe(true)
  expect(one.file.equals(three.file)).toBe(false)
})

it.each([3, 6, 8] as const)('stores the picture turned for EXIF orientation %d', async (orientation) => {
  const options = { layout, resolution: { width: 320, height: 200 }, coupon: { state: 'empty' } } as const
  const upright = await drawPhoto({ ...options, file: { format: 'raw' } })
  const { file } = await drawPhoto({ ...options, file: { format: 'png', orientation } })
  expect((await sharp(file).metadata()).orientation).toBe(orientation)
  const { data, info } = await sharp(file).autoOrient().removeAlpha().raw().toBuffer({ resolveWithObject: true })
  expect([info.width, info.height]).toEqual([320, 200])
  expect(data.equals(upright.file)).toBe(true)
})

it.each(['4:2:0', '4:4:4'] as const)('writes JPEG with %s colour', async (subsampling) => {
  const { file } = await drawPhoto({ layout, resolution: small, file: { subsampling } })
  expect(await sharp(file).metadata()).toMatchObject({ format: 'jpeg', width: 640, chromaSubsampling: subsampling })
})

describe('a faulty photo', () => {
  const resolution = { width: 320, height: 240 }
  const draw = async (options: DrawPhotoOptions): Promise<Buffer> =>
    (await drawPhoto({ ...options, resolution, file: { format: 'raw' } })).file
  const sound = draw({ layout })

  it.each(Object.entries(faultyPhotos))('of the kind %s differs from a sound one', async (_, options) => {
    const [faulty, plain] = [await draw(options(layout)), await sound]
    let changed = 0
    for (let i = 0; i < plain.length; i++) if (Math.abs((faulty[i] as number) - (plain[i] as number)) > 24) changed++
    // The least of them, two covered discs, takes 0.4 % of the frame.
    expect(changed / plain.length).toBeGreaterThan(0.002)
  })
})

it.each(['table', 'screen'] as const)('draws a picture of a %s without a card', async (kind) => {
  const { channels } = await sharp(await drawPictureWithoutCard(kind, { resolution: small })).stats()
  expect(channels.every(({ stdev }) => stdev > 10)).toBe(true)
})
