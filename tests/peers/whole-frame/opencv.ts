import { createRequire } from 'node:module'

export interface Mat {
  readonly rows: number
  readonly cols: number
  readonly data: Uint8Array
  readonly data32F: Float32Array
  readonly data64F: Float64Array
  readonly data32S: Int32Array
  roi(rect: object): Mat
  clone(): Mat
  delete(): void
}

interface MatVector {
  size(): number
  get(index: number): Mat
  delete(): void
}

/** The part of opencv-wasm that the whole-frame reader uses; the package's own types are all `any`. */
export interface OpenCv {
  readonly CV_8UC1: number
  readonly CV_8UC3: number
  readonly CV_32F: number
  readonly CV_32FC1: number
  readonly CV_32FC2: number
  readonly CV_32FC3: number
  readonly CV_64FC1: number
  readonly COLOR_RGB2GRAY: number
  readonly COLOR_LRGB2Lab: number
  readonly INTER_AREA: number
  readonly INTER_CUBIC: number
  readonly BORDER_REPLICATE: number
  readonly ADAPTIVE_THRESH_MEAN_C: number
  readonly THRESH_BINARY_INV: number
  readonly MORPH_RECT: number
  readonly MORPH_GRADIENT: number
  readonly REDUCE_AVG: number
  readonly CC_STAT_AREA: number
  readonly RETR_LIST: number
  readonly CHAIN_APPROX_NONE: number
  readonly RANSAC: number
  readonly TM_CCOEFF_NORMED: number
  readonly Mat: new (rows?: number, cols?: number, type?: number) => Mat
  readonly MatVector: new () => MatVector
  readonly Size: new (width: number, height: number) => { readonly width: number; readonly height: number }
  readonly Rect: new (x: number, y: number, width: number, height: number) => object
  readonly Point: new (x: number, y: number) => object
  readonly Scalar: new (value: number) => object
  matFromArray(rows: number, cols: number, type: number, values: ArrayLike<number>): Mat
  cvtColor(src: Mat, dst: Mat, code: number): void
  resize(src: Mat, dst: Mat, size: object, fx: number, fy: number, interpolation: number): void
  GaussianBlur(src: Mat, dst: Mat, size: object, sigmaX: number, sigmaY?: number, border?: number): void
  blur(src: Mat, dst: Mat, size: object, anchor: object, border: number): void
  connectedComponentsWithStats(src: Mat, labels: Mat, stats: Mat, centroids: Mat): number
  adaptiveThreshold(src: Mat, dst: Mat, max: number, method: number, type: number, block: number, c: number): void
  findContours(src: Mat, contours: MatVector, hierarchy: Mat, mode: number, method: number): void
  contourArea(contour: Mat): number
  arcLength(contour: Mat, closed: boolean): number
  moments(contour: Mat): { readonly m00: number; readonly m10: number; readonly m01: number }
  findHomography(src: Mat, dst: Mat, method: number, threshold: number): Mat
  warpPerspective(src: Mat, dst: Mat, matrix: Mat, size: object, flags: number): void
  getRotationMatrix2D(centre: object, angleDeg: number, scale: number): Mat
  warpAffine(src: Mat, dst: Mat, matrix: Mat, size: object, flags: number, border: number, value: object): void
  matchTemplate(src: Mat, template: Mat, result: Mat, method: number): void
  getStructuringElement(shape: number, size: object): Mat
  morphologyEx(src: Mat, dst: Mat, operation: number, kernel: Mat): void
  mean(src: Mat): readonly number[]
  reduce(src: Mat, dst: Mat, dimension: number, type: number, depth: number): void
  minMaxLoc(src: Mat): { readonly maxVal: number; readonly maxLoc: { readonly x: number; readonly y: number } }
}

/** Keeps a matrix to be freed when the photograph is read. */
export type Own = <M extends { delete(): void }>(mat: M) => M

/** The module stands in an object: it is a thenable, and awaiting it would never end. */
export const { cv } = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv }
