import type { Camera } from './camera.js'
import type { OpticsOptions, SensorOptions } from './options.js'
import { seededNormal } from './random.js'
import type { Scene } from './scene.js'

type Planes = readonly [Float32Array, Float32Array, Float32Array]

/** Colour of a pixel under an RGGB mosaic: 0, 1 or 2. */
const mosaicChannel = (column: number, row: number): 0 | 1 | 2 => ((row & 1) + (column & 1)) as 0 | 1 | 2

/** Fills in what the mosaic left out, from the nearest neighbours of the same colour. */
function interpolateMosaic(mosaic: Float32Array, planes: Planes, width: number, height: number): void {
  const inside = (value: number, limit: number): number =>
    value < 0 ? -value : value >= limit ? 2 * limit - 2 - value : value
  for (let row = 0; row < height; row++) {
    const up = inside(row - 1, height) * width
    const here = row * width
    const down = inside(row + 1, height) * width
    for (let column = 0; column < width; column++) {
      const left = inside(column - 1, width)
      const right = inside(column + 1, width)
      const m = (i: number): number => mosaic[i] as number
      const own = m(here + column)
      const beside = (m(here + left) + m(here + right)) / 2
      const aboveBelow = (m(up + column) + m(down + column)) / 2
      const channel = mosaicChannel(column, row)
      const i = here + column
      if (channel === 1) {
        // The row's other colour lies beside, the other row's above and below.
        planes[0][i] = row & 1 ? aboveBelow : beside
        planes[1][i] = own
        planes[2][i] = row & 1 ? beside : aboveBelow
      } else {
        planes[channel][i] = own
        planes[1][i] = (beside + aboveBelow) / 2
        planes[2 - channel]![i] = (m(up + left) + m(up + right) + m(down + left) + m(down + right)) / 4
      }
    }
  }
}

/** Lights and exposes the scene in place: its planes become signals, 1 at full scale, noise included. */
export function expose(
  scene: Scene,
  camera: Pick<Camera, 'K' | 'halfDiagonalPx'>,
  optics: Pick<Required<OpticsOptions>, 'vignetting' | 'lightGradient'>,
  sensor: Required<SensorOptions>,
  seed: number,
): void {
  const { width, height, planes } = scene
  const { exposure, whiteBalance, fullWellE, readNoiseE, bayer } = sensor
  const normal = seededNormal(seed)
  const cx = camera.K[0][2]
  const cy = camera.K[1][2]
  const [acrossGradient, downGradient] = optics.lightGradient
  const gains = whiteBalance.map((gain) => gain * exposure)
  const shot = 1 / fullWellE
  const read = fullWellE === Infinity ? 0 : (readNoiseE / fullWellE) ** 2
  const mosaic = bayer ? new Float32Array(width * height) : undefined
  for (let row = 0; row < height; row++) {
    const down = 1 + downGradient * (row / height - 0.5)
    for (let column = 0; column < width; column++) {
      const q2 = ((column - cx) ** 2 + (row - cy) ** 2) / camera.halfDiagonalPx ** 2
      const light = (1 - optics.vignetting * q2) * (down + acrossGradient * (column / width - 0.5))
      const i = row * width + column
      if (mosaic) {
        const channel = mosaicChannel(column, row)
        const signal = (planes[channel][i] as number) * light * (gains[channel] as number)
        mosaic[i] = signal + Math.sqrt(signal * shot + read) * normal()
      } else
        for (let channel = 0; channel < 3; channel++) {
          const plane = planes[channel] as Float32Array
          const signal = (plane[i] as number) * light * (gains[channel] as number)
          plane[i] = signal + Math.sqrt(signal * shot + read) * normal()
        }
    }
  }
  if (mosaic) interpolateMosaic(mosaic, planes, width, height)
}
