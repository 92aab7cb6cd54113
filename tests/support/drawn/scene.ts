import type { RectMm } from '../../../analysis/layout/schema.js'
import type { Camera, PlaneMap } from './camera.js'
import type { OpticsOptions, Rgb } from './options.js'
import { addDisc, addRect, boundsOf, createLayer, type BlurAt, type Layer } from './raster.js'

/** The whole frame in linear light: three reflectances a pixel as the lens renders them, under even light. */
export interface Scene {
  width: number
  height: number
  planes: readonly [Float32Array, Float32Array, Float32Array]
}

export function createScene({ width, height }: { width: number; height: number }, colour: Rgb): Scene {
  const plane = (value: number): Float32Array => new Float32Array(width * height).fill(value)
  return { width, height, planes: [plane(colour[0]), plane(colour[1]), plane(colour[2])] }
}

/** Lays a colour over the scene where the layer covers it. */
export function paint(scene: Scene, cover: Layer, colour: Rgb): void {
  scene.planes.forEach((plane, channel) => {
    const value = colour[channel] as number
    for (let row = 0; row < cover.height; row++) {
      let at = (cover.row0 + row) * scene.width + cover.column0
      for (let i = row * cover.width; i < (row + 1) * cover.width; i++, at++) {
        const share = Math.min(1, cover.data[i] as number)
        plane[at] = (plane[at] as number) + share * (value - (plane[at] as number))
      }
    }
  })
}

/** Blur that grows with the square of the distance from the middle of the frame. */
export function blurOf(camera: Camera, middlePx: number, cornerPx: number): BlurAt {
  const cx = camera.K[0][2]
  const cy = camera.K[1][2]
  return (column, row) => middlePx + (cornerPx * ((column - cx) ** 2 + (row - cy) ** 2)) / camera.halfDiagonalPx ** 2
}

/** A layer of the pixels that a rectangle of a plane reaches, empty. */
export function layerOver(
  frame: { width: number; height: number },
  map: PlaneMap,
  rect: RectMm,
  marginPx: number,
): Layer {
  const whole: Layer = { column0: 0, row0: 0, ...frame, data: new Float32Array(0) }
  const { column0, row0, column1, row1 } = boundsOf(whole, map, rect, marginPx)
  return createLayer(column0, row0, Math.max(0, column1 - column0), Math.max(0, row1 - row0))
}

/** A rectangle of one colour lying on a plane. */
export function paintRect(scene: Scene, map: PlaneMap, rect: RectMm, blurAt: BlurAt, colour: Rgb): void {
  const cover = layerOver(scene, map, rect, 12)
  addRect(cover, map, rect, blurAt)
  paint(scene, cover, colour)
}

/** A round thing lying on a plane. */
export function paintDisc(
  scene: Scene,
  map: PlaneMap,
  disc: { xMm: number; yMm: number; radiusMm: number },
  blurAt: BlurAt,
  colour: Rgb,
): void {
  const { xMm, yMm, radiusMm: r } = disc
  const cover = layerOver(scene, map, { x0: xMm - r, y0: yMm - r, x1: xMm + r, y1: yMm + r }, 12)
  addDisc(cover, map, disc, blurAt)
  paint(scene, cover, colour)
}

/** Adds the mirror image of a lamp, brightest in its middle. */
export function addGlare(scene: Scene, map: PlaneMap, glare: NonNullable<OpticsOptions['glare']>[number]): void {
  const { xMm, yMm, radiusMm, strength } = glare
  const reach = 4 * radiusMm
  const box = { x0: xMm - reach, y0: yMm - reach, x1: xMm + reach, y1: yMm + reach }
  const { column0, row0, width, height } = layerOver(scene, map, box, 2)
  const place = new Float64Array(2)
  for (let row = row0; row < row0 + height; row++)
    for (let column = column0; column < column0 + width; column++) {
      map.toPlane(column, row, place)
      const r2 = ((place[0] as number) - xMm) ** 2 + ((place[1] as number) - yMm) ** 2
      const light = strength * Math.exp(-r2 / (2 * radiusMm * radiusMm))
      for (const plane of scene.planes) {
        const i = row * scene.width + column
        plane[i] = (plane[i] as number) + light
      }
    }
}

/** Darkens all that lies beyond an edge, softly: the shadow of a phone or an arm. */
export function addShadow(scene: Scene, map: PlaneMap, shadow: NonNullable<OpticsOptions['shadow']>): void {
  const { xMm, yMm, angleDeg, penumbraMm, depth } = shadow
  const [cos, sin] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)]
  const place = new Float64Array(2)
  for (let row = 0, i = 0; row < scene.height; row++)
    for (let column = 0; column < scene.width; column++, i++) {
      map.toPlane(column, row, place)
      const beyond = ((place[0] as number) - xMm) * cos + ((place[1] as number) - yMm) * sin
      const light = 1 - depth / (1 + Math.exp(-beyond / (penumbraMm / 4)))
      for (const plane of scene.planes) plane[i] = (plane[i] as number) * light
    }
}

/** Moves the camera in a straight line during the exposure: a mean over shifted copies, half a pixel apart. */
export function moveDuringExposure(scene: Scene, { lengthPx, angleDeg }: { lengthPx: number; angleDeg: number }): void {
  const { width, height } = scene
  const copies = Math.max(2, Math.ceil(2 * lengthPx))
  const shifts = Array.from({ length: copies }, (_, i) => ((i + 0.5) / copies - 0.5) * lengthPx)
  const clamp = (value: number, limit: number): number => Math.min(Math.max(value, 0), limit - 1)
  for (const plane of scene.planes) {
    const sum = new Float32Array(plane.length)
    for (const shift of shifts) {
      const x = shift * Math.cos((angleDeg * Math.PI) / 180)
      const y = shift * Math.sin((angleDeg * Math.PI) / 180)
      const [wholeX, wholeY] = [Math.floor(x), Math.floor(y)]
      const [fx, fy] = [x - wholeX, y - wholeY]
      for (let row = 0; row < height; row++) {
        const upper = clamp(row + wholeY, height) * width
        const lower = clamp(row + wholeY + 1, height) * width
        for (let column = 0; column < width; column++) {
          const left = clamp(column + wholeX, width)
          const right = clamp(column + wholeX + 1, width)
          const i = row * width + column
          sum[i] =
            (sum[i] as number) +
            ((plane[upper + left] as number) * (1 - fx) + (plane[upper + right] as number) * fx) * (1 - fy) +
            ((plane[lower + left] as number) * (1 - fx) + (plane[lower + right] as number) * fx) * fy
        }
      }
    }
    for (let i = 0; i < sum.length; i++) plane[i] = (sum[i] as number) / copies
  }
}
