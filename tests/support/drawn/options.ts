import type { LadderLayout, PointMm } from '../../../analysis/layout/schema.js'

export type Rgb = readonly [number, number, number]
export type CouponState = 'good' | 'empty' | 'turned' | 'mirrored' | 'not-inked'

/** A pinhole camera that looks at the card from above. */
export interface CameraOptions {
  /** From the aimed-at place on the card to the pinhole. Default 400. */
  distanceMm?: number
  /** Between the optical axis and the card's normal. Default 0. */
  tiltDeg?: number
  /** Where the camera leans to, from x towards y. Default 0. */
  azimuthDeg?: number
  /** Turns the camera about its axis. Default 0. */
  rollDeg?: number
  /** Share of the frame's tighter side that the card takes; above 1 crops it. Sets the focal length. Default 0.92. */
  fillShare?: number
  /** Focal length in pixels, instead of `fillShare`. */
  focalPx?: number
  /** Place on the card in the middle of the frame. Default its centre. */
  aimMm?: PointMm
  /** Radial distortion p' = c + (p - c)(1 + k1 q^2 + k2 q^4), q = |p - c| / half-diagonal. Default 0. */
  k1?: number
  k2?: number
}

export interface CardOptions {
  /** Linear reflectance of the paper. Default 0.86. */
  paper?: number
  /** Linear reflectance of the printed black. Default 0.045. */
  ink?: number
  /** How far every printed edge moves out. Default 0. */
  inkGainUm?: number
  /** Printed length over nominal length. Default 1. */
  scaleX?: number
  scaleY?: number
  /** Linear reflectance round the card. Default a brown table. */
  table?: Rgb
  /** Whether texts appear, as grey bars in place of letters. Default true. */
  texts?: boolean
  /** Indices into the layout's fiducials of those that something skin-coloured covers. Default none. */
  coveredFiducials?: readonly number[]
  /** A second card of the same ladder beside the first. Default none. */
  second?: { offsetMm: PointMm; rotationDeg: number }
}

/** One coupon. Lengths along the build are y, across it x. */
export interface CouponOptions {
  state?: CouponState
  /** Which surface is dark: washed grooves, or the lands between them rolled with ink. Default grooves. */
  inked?: 'grooves' | 'lands'
  /** Each x edge of the solid moves out by this. Default 0. */
  growthUm?: number
  /** The later-printed (upper) edge of each void moves down by this; what it passes is closed. Default 0. */
  printThroughUm?: number
  /** The earlier-printed (lower) edge of each void moves up by this. Default 0. */
  earlierGrowthUm?: number
  /** Standard deviation of an error of its own for every x edge, seeded. Default 0. */
  edgeScatterUm?: number
  /** Reflectance of the ink. Default 0.045. */
  dark?: number
  /** Brightness of paper under clear resin over that of bare paper, before the tint. Default 0.85. */
  transmission?: number
  /** Decadic absorbance per mm of the 3 mm plate for R, G, B. Default slightly yellow. */
  absorbancePerMm?: Rgb
  /** Share of light scattered wide: what lies below keeps 1 - haze of its contrast about its local mean. Default 0.05. */
  haze?: number
  /** Standard deviation of the blur that makes the local mean. Default 2.5. */
  hazeSpreadMm?: number
  /** Reflectance mirrored by the plate, added to all that is clear. Default 0.01. */
  veil?: number
  /** How much darker the paper is below features that stop the light: a soft shadow. Default 0.06. */
  featureShadow?: number
  /** From the slot's place to the coupon's. Default [0, 0]. */
  offsetMm?: PointMm
  /** About the coupon's centre. Default 0. */
  rotationDeg?: number
}

export interface OpticsOptions {
  /** Standard deviation of the Gaussian blur in the middle of the frame, the pixel's own aperture apart; 0.3 or more. Default 0.8. */
  blurPx?: number
  /** The same for the coupons' faces, 8 mm nearer than the card. Default as `blurPx`. */
  faceBlurPx?: number
  /** Added to either at the frame's corners, growing with the square of the distance. Default 0. */
  cornerBlurPx?: number
  /** Loss of light at the corners. Default 0.1. */
  vignetting?: number
  /** Relative rise of the light across the frame, left to right and top to bottom. Default [0.05, -0.04]. */
  lightGradient?: readonly [number, number]
  /** Darkening of the paper close round a coupon. Default 0.12. */
  couponShadow?: number
  /** Beyond a line through the place, across the angle, light is less by `depth`; it falls over about `penumbraMm`. */
  shadow?: { xMm: number; yMm: number; angleDeg: number; penumbraMm: number; depth: number }
  motion?: { lengthPx: number; angleDeg: number }
  /** Mirrored lamps. `strength` in reflectance: 2 clips everything. */
  glare?: readonly { xMm: number; yMm: number; radiusMm: number; strength: number }[]
}

export interface SensorOptions {
  /** Linear signal of a perfectly white surface in the middle of the frame; 1 is full scale. Default 0.75. */
  exposure?: number
  /** What is left wrong of the white balance. Default [1, 1, 1]. */
  whiteBalance?: Rgb
  /** Electrons at full scale, `Infinity` for no shot noise. Default 5000. */
  fullWellE?: number
  readNoiseE?: number
  /** One colour a pixel (RGGB), the others interpolated linearly. Default false. */
  bayer?: boolean
}

/** What a camera does to the picture after the sensor, in encoded values. */
export interface ProcessingOptions {
  /** v = sRGB(x) ^ gamma. Default 1, no error. */
  gamma?: number
  /** s in v + 2 s v (1 - v)(2 v - 1). Default 0. */
  sCurve?: number
  /** Edge-preserving mean: Gaussian over the distance and over the difference in luma. Default none. */
  denoise?: { radiusPx: number; range: number }
  /** Unsharp mask on luma. Default none. */
  sharpen?: { amount: number; radiusPx: number }
}

export interface FileOptions {
  /** Default jpeg; raw is RGB bytes, row by row. */
  format?: 'jpeg' | 'png' | 'raw'
  quality?: number
  subsampling?: '4:2:0' | '4:4:4'
  /** EXIF orientation: the stored pixels are turned so that a reader who obeys it sees the upright frame. Default 1. */
  orientation?: 1 | 3 | 6 | 8
}

export interface DrawPhotoOptions {
  layout: LadderLayout
  /** Of noise and edge scatter. Default 1. */
  seed?: number
  /** Default 2016 x 1512. */
  resolution?: { width: number; height: number }
  camera?: CameraOptions
  card?: CardOptions
  /** For every slot. */
  coupon?: CouponOptions
  /** For single slots, by number; adds to `coupon`. */
  slots?: Readonly<Record<number, CouponOptions>>
  optics?: OpticsOptions
  sensor?: SensorOptions
  processing?: ProcessingOptions
  file?: FileOptions
}

export const DEFAULT_RESOLUTION = { width: 2016, height: 1512 }

export const DEFAULT_CARD = {
  paper: 0.86,
  ink: 0.045,
  inkGainUm: 0,
  scaleX: 1,
  scaleY: 1,
  table: [0.3, 0.22, 0.15],
  texts: true,
  coveredFiducials: [],
} satisfies CardOptions

export const DEFAULT_COUPON = {
  state: 'good',
  inked: 'grooves',
  growthUm: 0,
  printThroughUm: 0,
  earlierGrowthUm: 0,
  edgeScatterUm: 0,
  dark: 0.045,
  transmission: 0.85,
  absorbancePerMm: [0.001, 0.002, 0.008],
  haze: 0.05,
  hazeSpreadMm: 2.5,
  veil: 0.01,
  featureShadow: 0.06,
  offsetMm: [0, 0],
  rotationDeg: 0,
} satisfies Required<CouponOptions>

export const DEFAULT_OPTICS = {
  blurPx: 0.8,
  cornerBlurPx: 0,
  vignetting: 0.1,
  lightGradient: [0.05, -0.04],
  couponShadow: 0.12,
  glare: [],
} satisfies OpticsOptions

export const DEFAULT_SENSOR = {
  exposure: 0.75,
  whiteBalance: [1, 1, 1],
  fullWellE: 5000,
  readNoiseE: 3,
  bayer: false,
} satisfies Required<SensorOptions>

export const DEFAULT_FILE = {
  format: 'jpeg',
  quality: 92,
  subsampling: '4:2:0',
  orientation: 1,
} satisfies Required<FileOptions>
