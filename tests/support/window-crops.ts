import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import sharp from 'sharp'
import type { CameraPose } from '../../analysis/card/camera-pose.js'
import { cardPlane } from '../../analysis/coupon/plane-map.js'
import { lumaTable, SRGB_TONE } from '../../analysis/image/linear-light.js'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { LadderDesign, LadderLayout } from '../../analysis/layout/schema.js'
import type { PointPx } from '../../analysis/result.js'
import { readWindows, type WindowReading } from '../../analysis/window/read-window.js'
import type { Outcome } from '../../analysis/outcome.js'

interface Crop {
  file: string
  leftPx: number
  topPx: number
}
export interface TrueWindow {
  slot: number
  /** Share of the transmitted light deviated by more than each angle, by a second rendering. */
  sharePastDeg: { '2.5': number; '5'?: number; '10'?: number }
  absorptionPerMm: [number, number, number]
  reliefUm: number
  windowRoughness: number
  through: Crop
  bare: Crop
}
interface Scene {
  camera: {
    resolution: [number, number]
    K: number[][]
    R: number[][]
    t: [number, number, number]
    k1?: number
    k2?: number
  }
  windows: TrueWindow[]
}

const folder = join(import.meta.dirname, '../../samples/windows')
const listed = (list: string) =>
  JSON.parse(readFileSync(join(folder, list), 'utf8')) as { design: LadderDesign; scenes: Record<string, Scene> }
const [corpus, alike, frames] = [listed('windows.json'), listed('alike.json'), listed('frames.json')]
export const sceneNames = Object.keys(corpus.scenes)
/** Two bottles 1.5 points of haze apart, each scene a light and view of its own in several camera treatments; five tints. */
export const alikeNames = Object.keys(alike.scenes)
/** Whole frames, whose coupons have gratings, ink and walls; one is lit by a panel that stands low. */
export const frameNames = Object.keys(frames.scenes)

/** Changes a frame: `toPx` leads from the card's millimetres, as seen through a window, to pixels. */
type Paint = (
  frame: { readonly rgb: Uint8Array; readonly width: number },
  toPx: (xMm: number, yMm: number) => readonly [number, number],
  slots: LadderLayout['card']['slots'],
) => void

/** Reads the windows of one path-traced scene: its crops laid into a frame that is black elsewhere, then painted on. */
export async function readScene(
  name: string,
  paint: Paint = () => undefined,
): Promise<{ truth: TrueWindow; reading: Outcome<WindowReading> }[]> {
  const { camera, windows } = { ...corpus.scenes, ...alike.scenes, ...frames.scenes }[name] as Scene
  const [width, height] = camera.resolution
  const rgb = new Uint8Array(3 * width * height)
  for (const { file, leftPx, topPx } of windows.flatMap(({ through, bare }) => [through, bare])) {
    const { data, info } = await sharp(join(folder, file)).raw().toBuffer({ resolveWithObject: true })
    for (let row = 0; row < info.height; row++)
      rgb.set(data.subarray(3 * row * info.width, 3 * (row + 1) * info.width), 3 * ((topPx + row) * width + leftPx))
  }
  const layout = ladderLayout(corpus.design)
  const K = (row: number, column: number) => camera.K[row]?.[column] ?? NaN
  const pose: CameraPose = {
    focalPx: K(0, 0),
    rotation: camera.R.flat(),
    translationMm: camera.t,
    aspect: 1,
    k1: camera.k1 ?? 0,
    k2: camera.k2 ?? 0,
    centrePx: [K(0, 2), K(1, 2)],
    halfDiagonalPx: Math.hypot(width, height) / 2,
  }
  const face = cardPlane(pose, layout.coupon.faceZMm)
  const { x0Mm, x1Mm, y0Mm, y1Mm } = layout.coupon.window
  const places = windows.map(({ slot }) => {
    const at = layout.card.slots[slot - 1]!
    const corner = (x: number, y: number): PointPx => [...face(at.originMm[0] + x, at.originMm[1] + y)]
    return { slot: at, outlinePx: [corner(x0Mm, y0Mm), corner(x1Mm, y0Mm), corner(x1Mm, y1Mm), corner(x0Mm, y1Mm)] }
  })
  paint({ rgb, width }, cardPlane(pose, 1), layout.card.slots)
  const light = { photo: { width, height, rgb }, table: lumaTable(SRGB_TONE) } as never
  const input = { light, tone: SRGB_TONE, pose, coupon: layout.coupon, inkGainUm: 0 }
  const readings = readWindows(input, places)
  return windows.map((truth, i) => ({ truth, reading: readings[i]! }))
}
