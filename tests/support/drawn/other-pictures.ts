import type { PlaneMap } from './camera.js'
import { encodeFile } from './encode.js'
import {
  DEFAULT_FILE,
  DEFAULT_OPTICS,
  DEFAULT_RESOLUTION,
  DEFAULT_SENSOR,
  type FileOptions,
  type Rgb,
} from './options.js'
import { develop } from './processing.js'
import { seeded } from './random.js'
import { createScene, paintDisc, paintRect, type Scene } from './scene.js'
import { expose } from './sensor.js'

/** Coordinates are pixels. */
const FLAT: PlaneMap = {
  toPlane: (column, row, out) => {
    out[0] = column
    out[1] = row
  },
  toPixel: (x, y) => ({ column: x, row: y }),
}

/** A bare table with a few round and square things on it. */
function drawTable(scene: Scene, random: () => number): void {
  const { width, height } = scene
  const within = (low: number, high: number): number => low + (high - low) * random()
  const colour = (): Rgb => [within(0.03, 0.8), within(0.03, 0.8), within(0.03, 0.8)]
  for (let i = 0; i < 12; i++) {
    const size = within(0.02, 0.12) * height
    const place = { x: within(0, width), y: within(0, height) }
    if (i % 2) paintDisc(scene, FLAT, { xMm: place.x, yMm: place.y, radiusMm: size }, () => 1.5, colour())
    else {
      const rect = { x0: place.x, y0: place.y, x1: place.x + 2 * size, y1: place.y + within(0.5, 2) * size }
      paintRect(scene, FLAT, rect, () => 1.5, colour())
    }
  }
}

/** Something like a page of text on a screen: a header, a side column, paragraphs of words, buttons. */
function drawScreen(scene: Scene, random: () => number): void {
  const { width, height } = scene
  const box = (x0: number, y0: number, w: number, h: number, level: number): void =>
    paintRect(scene, FLAT, { x0, y0, x1: x0 + w, y1: y0 + h }, () => 0.3, [level, level, level])
  box(0, 0, width, 0.07 * height, 0.1)
  box(0, 0.07 * height, 0.2 * width, height, 0.75)
  const line = height / 45
  for (let y = 0.12 * height; y < 0.85 * height; y += line) {
    if (random() < 0.12) continue
    let x = 0.24 * width
    const end = x + (0.4 + 0.3 * random()) * width
    while (x < end) {
      const letters = 1 + Math.floor(9 * random())
      for (let i = 0; i < letters; i++, x += 0.45 * line)
        box(x, y + 0.2 * line * random(), 0.3 * line, (0.4 + 0.2 * random()) * line, 0.02)
      x += 0.4 * line
    }
  }
  for (let i = 0; i < 4; i++) box((0.3 + 0.15 * i) * width, 0.9 * height, 0.1 * width, 0.05 * height, 0.2)
}

/** A picture with no card in it: a photograph of a table, or a picture of a screen (even light, no noise). */
export async function drawPictureWithoutCard(
  kind: 'table' | 'screen',
  options: { seed?: number; resolution?: { width: number; height: number }; file?: FileOptions } = {},
): Promise<Buffer> {
  const { seed = 1, resolution = DEFAULT_RESOLUTION } = options
  const next = seeded(seed)
  const random = (): number => next() / 2 ** 32
  const table = kind === 'table'
  const scene = createScene(resolution, table ? [0.35, 0.27, 0.18] : [1, 1, 1])
  if (table) drawTable(scene, random)
  else drawScreen(scene, random)
  const middle = [
    [1, 0, (resolution.width - 1) / 2],
    [0, 1, (resolution.height - 1) / 2],
    [0, 0, 1],
  ] as const
  expose(
    scene,
    { K: middle, halfDiagonalPx: Math.hypot(resolution.width, resolution.height) / 2 },
    table ? DEFAULT_OPTICS : { vignetting: 0, lightGradient: [0, 0] },
    { ...DEFAULT_SENSOR, ...(table ? {} : { exposure: 1, fullWellE: Infinity }) },
    seed,
  )
  return encodeFile(develop(scene, {}), resolution, { ...DEFAULT_FILE, ...options.file })
}
