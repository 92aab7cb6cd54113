import { createRequire } from 'node:module'

interface Mat {
  readonly rows: number
  readonly cols: number
  readonly data: Uint8Array
  readonly data32S: Int32Array
  readonly data32F: Float32Array
  readonly data64F: Float64Array
  delete(): void
}

/** The part of opencv-wasm that is used. Its own types are all `any`, in a source file that the compiler rejects. */
interface OpenCv {
  readonly CV_8UC1: number
  readonly CV_32FC1: number
  readonly CV_64FC2: number
  readonly ADAPTIVE_THRESH_MEAN_C: number
  readonly THRESH_BINARY_INV: number
  readonly RANSAC: number
  readonly Mat: new (rows?: number, cols?: number, type?: number) => Mat
  matFromArray(rows: number, cols: number, type: number, values: readonly number[]): Mat
  adaptiveThreshold(src: Mat, dst: Mat, max: number, method: number, type: number, block: number, c: number): void
  connectedComponentsWithStats(src: Mat, labels: Mat, stats: Mat, centroids: Mat): number
  readonly Size: new (width: number, height: number) => object
  readonly BORDER_REPLICATE: number
  GaussianBlur(src: Mat, dst: Mat, size: object, sigmaX: number, sigmaY: number, border: number): void
  readonly MORPH_CLOSE: number
  morphologyEx(src: Mat, dst: Mat, operation: number, kernel: Mat): void
  connectedComponents(src: Mat, labels: Mat): number
  findHomography(src: Mat, dst: Mat, method: number, threshold: number, mask: Mat): Mat
}

let loaded: OpenCv | undefined

/** One instance a thread. Not returned to callers: the module is a thenable, and awaiting it would never end. */
function opencv(): OpenCv {
  if (loaded) return loaded
  const events = ['uncaughtException', 'unhandledRejection'] as const
  const before = events.map((event) => process.listeners(event as 'uncaughtException'))
  const { cv } = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv }
  // Emscripten adds handlers that abort the module on any unrelated rejection: drop those only.
  for (const [i, event] of events.entries())
    for (const listener of process.listeners(event as 'uncaughtException'))
      if (!before[i]?.includes(listener)) process.removeListener(event, listener)
  loaded = cv
  return cv
}

/** Loads the library now, a fifth of a second's work, rather than when it is first needed. */
export function loadOpenCv(): void {
  opencv()
}

/** Runs with Mats that are freed afterwards, whatever happens. */
function withMats<T>(work: (cv: OpenCv, own: <M extends Mat>(mat: M) => M) => T): T {
  const mats: Mat[] = []
  try {
    return work(opencv(), (mat) => {
      mats.push(mat)
      return mat
    })
  } finally {
    for (const mat of mats) mat.delete()
  }
}

export interface Component {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly area: number
  /** Centroid, pixels. */
  readonly centre: readonly [number, number]
}

/**
 * Connected regions darker than their surroundings, in a small grey picture.
 *
 * @param picture shape (height, width), 8 bit
 * @param neighbourhoodPx edge of the square whose mean is the surroundings; odd, wider than what is looked for
 * @param darker how many code values below that mean counts as dark
 */
export function darkComponents(
  { width, height, grey }: { width: number; height: number; grey: Uint8Array },
  neighbourhoodPx: number,
  darker: number,
): Component[] {
  return withMats((cv, own) => {
    const source = own(new cv.Mat(height, width, cv.CV_8UC1))
    source.data.set(grey)
    const dark = own(new cv.Mat())
    cv.adaptiveThreshold(source, dark, 255, cv.ADAPTIVE_THRESH_MEAN_C, cv.THRESH_BINARY_INV, neighbourhoodPx, darker)
    const [labels, stats, centroids] = [own(new cv.Mat()), own(new cv.Mat()), own(new cv.Mat())]
    const count = cv.connectedComponentsWithStats(dark, labels, stats, centroids)
    const s = stats.data32S
    const c = centroids.data64F
    return Array.from({ length: count - 1 }, (_, k): Component => {
      const i = 5 * (k + 1)
      return {
        x: s[i] ?? 0,
        y: s[i + 1] ?? 0,
        width: s[i + 2] ?? 0,
        height: s[i + 3] ?? 0,
        area: s[i + 4] ?? 0,
        centre: [c[2 * (k + 1)] ?? 0, c[2 * (k + 1) + 1] ?? 0],
      }
    })
  })
}

/**
 * Connected regions of a mask, gaps of up to two cells closed first.
 *
 * @param mask shape (height, width), not 0 where something is
 * @returns indices into the mask of each region's cells, those in closed gaps among them
 */
export function maskComponents(width: number, height: number, mask: Uint8Array): number[][] {
  return withMats((cv, own) => {
    const source = own(new cv.Mat(height, width, cv.CV_8UC1))
    source.data.set(mask)
    const kernel = own(new cv.Mat(3, 3, cv.CV_8UC1))
    kernel.data.fill(1)
    const [closed, labels] = [own(new cv.Mat()), own(new cv.Mat())]
    cv.morphologyEx(source, closed, cv.MORPH_CLOSE, kernel)
    const regions = Array.from({ length: cv.connectedComponents(closed, labels) - 1 }, (): number[] => [])
    const label = labels.data32S
    for (let i = 0; i < label.length; i++) if (label[i]! > 0) regions[label[i]! - 1]!.push(i)
    return regions
  })
}

/**
 * Repeated steps that each need the Gaussian mean of what the step before made; beyond the edges the outermost values go on.
 *
 * @param values shape (height, width); changed in place by `step`, which is given their mean
 * @param sigma standard deviation, pixels; the kernel ends at three of them
 */
export function withGaussianMeans(
  values: Float32Array,
  { width, height, sigma }: { readonly width: number; readonly height: number; readonly sigma: number },
  steps: number,
  step: (mean: Float32Array) => void,
): void {
  withMats((cv, own) => {
    const source = own(new cv.Mat(height, width, cv.CV_32FC1))
    const mean = own(new cv.Mat())
    const edge = 2 * Math.ceil(3 * sigma) + 1
    for (let i = 0; i < steps; i++) {
      source.data32F.set(values)
      cv.GaussianBlur(source, mean, new cv.Size(edge, edge), sigma, sigma, cv.BORDER_REPLICATE)
      step(mean.data32F)
    }
  })
}

/**
 * Homography by RANSAC.
 *
 * @param from shape (n, 2), n at least 4
 * @param to shape (n, 2)
 * @param threshold distance in units of `to` beyond which a pair is an outlier
 * @returns nine numbers row by row and which pairs agree, or undefined when none was found
 */
export function robustHomography(
  from: readonly (readonly [number, number])[],
  to: readonly (readonly [number, number])[],
  threshold: number,
): { matrix: number[]; inliers: boolean[] } | undefined {
  return withMats((cv, own) => {
    const a = own(cv.matFromArray(from.length, 1, cv.CV_64FC2, from.flat()))
    const b = own(cv.matFromArray(to.length, 1, cv.CV_64FC2, to.flat()))
    const mask = own(new cv.Mat())
    const h = own(cv.findHomography(a, b, cv.RANSAC, threshold, mask))
    if (h.rows !== 3) return undefined
    return { matrix: Array.from(h.data64F), inliers: Array.from(mask.data, (m) => m === 1) }
  })
}
