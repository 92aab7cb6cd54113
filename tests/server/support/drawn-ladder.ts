import { ladderLayout } from '../../../analysis/index.js'
import { drawPhoto } from '../../support/drawn-photo.js'

/** A drawn photograph of a ladder whose rungs are all far too small: growth would be zero at 9 s only. */
export async function ladderTooShort(): Promise<Uint8Array> {
  const exposuresS = [1.6, 2, 2.5, 3.1]
  const layout = ladderLayout({ ladderId: 'TEST01', layerHeightUm: 50, pixelPitchUm: 34, exposuresS })
  const slots = Object.fromEntries(exposuresS.map((s, i) => [i + 1, { growthUm: 45 * Math.log(s / 9) }]))
  const resolution = { width: 3024, height: 2268 }
  return (await drawPhoto({ layout, resolution, slots, camera: { distanceMm: 400, tiltDeg: 5 } })).file
}
