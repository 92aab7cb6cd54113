import { mean } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { ladderLayout, measureLadder } from '../../analysis/index.js'
import { drawPhoto, type DrawPhotoOptions } from '../support/drawn-photo.js'

// Drawn photographs, a third coarser than those of 12 megapixels. Their coupons are flat, so that what the edges read is
// compared, before the reader's allowance for the walls of grooves seen askew.
const exposuresS = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const layout = ladderLayout({ ladderId: 'TEST01', layerHeightUm: 50, pixelPitchUm: 34, exposuresS })
const growthUm = (exposureS: number) => 45 * Math.log(exposureS / 2.7)
const ladder: DrawPhotoOptions = {
  layout,
  resolution: { width: 3024, height: 2268 },
  slots: Object.fromEntries(
    exposuresS.map((s, i) => [
      i + 1,
      {
        growthUm: growthUm(s),
        printThroughUm: 420 + 240 * Math.log(s / 2.7),
        offsetMm: [0.4 * Math.sin(3 * i), 0.4 * Math.cos(2 * i)] as [number, number],
        rotationDeg: [1.2, -0.7, 0.4, -1.5, 0.9, -0.2][i] ?? 0,
      },
    ]),
  ),
}

async function read(options: Partial<DrawPhotoOptions>) {
  const reading = await measureLadder((await drawPhoto({ ...ladder, ...options })).file)
  if ('refusal' in reading) throw new Error(`refused: ${reading.refusal.code}`)
  for (const rung of reading.rungs) {
    if (!('growthUm' in rung)) throw new Error(`slot ${rung.slot} was not read: ${rung.refusal.code}`)
    const edges = mean(rung.gratings.map((grating) => grating.growthUm.value))
    // 0.02 px of bias a photo and width: 1 um at this pixel.
    expect(Math.abs(edges - growthUm(rung.exposureS)), `slot ${rung.slot}`).toBeLessThan(1)
  }
  return reading
}

describe('pictures of every kind that people upload', () => {
  it('something dark that lies against the patches for the tone curve', async () => {
    const { card } = layout
    const [first] = card.tone
    const { x0, y1 } = first!.areaMm
    const lying = { text: 'MMMMMM MMMMM MMM M M MMMMM', xMm: x0, yMm: y1 + 1.1, sizeMm: 2.1, bold: false }
    const { gates } = await read({ layout: { ...layout, card: { ...card, texts: [...card.texts, lying] } } })
    expect(gates.find(({ gate }) => gate === 'tone-misfit')?.passed).toBe(false)
  })

  it('a flatbed scan, which sees everything from straight above, also of a card printed out of scale', async () => {
    for (const card of [{}, { scaleX: 1.005, scaleY: 0.995 }]) {
      const reading = await read({ camera: { distanceMm: 100_000, rollDeg: 1 }, card })
      expect(reading.card.cameraDistanceMm).toBeGreaterThan(2000)
      for (const rung of reading.rungs) if ('growthUm' in rung) expect(rung.offAxisDeg).toBeLessThan(2)
    }
  })

  it('a camera tilted by 25 degrees, at the price of a larger uncertainty', async () => {
    const camera = { distanceMm: 400, azimuthDeg: 40, rollDeg: 2, k1: -0.012, fillShare: 0.97 }
    const [level, tilted] = [
      await read({ camera: { ...camera, tiltDeg: 5 } }),
      await read({ camera: { ...camera, tiltDeg: 25 } }),
    ]
    expect(tilted.card.tiltDeg).toBeCloseTo(25, 1)
    const uncertainty = ({ rungs: [first] }: typeof level) =>
      first && 'growthUm' in first ? first.growthUm.standardUncertainty : NaN
    expect(uncertainty(tilted)).toBeGreaterThan(2 * uncertainty(level))
  })

  it("a phone's shadow across the card, with its edge over a column of coupons", async () => {
    await read({
      camera: { distanceMm: 400, tiltDeg: 5 },
      optics: { shadow: { xMm: 22, yMm: 0, angleDeg: 10, penumbraMm: 25, depth: 0.45 } },
    })
  })

  it('warm lamp light that falls off across the card', async () => {
    await read({
      camera: { distanceMm: 400, tiltDeg: 5 },
      sensor: { whiteBalance: [1.15, 1, 0.6], exposure: 0.6 },
      optics: { vignetting: 0.3, lightGradient: [0.4, -0.3] },
    })
  })
})
