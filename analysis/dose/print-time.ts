export interface PrintTime {
  readonly exposuresS: readonly number[]
  readonly layerUm: number
  /** Height of the print, mm. */
  readonly heightMm: number
  /** Lift, return and rest of each layer, s. Default 8: common practice, no source. */
  readonly betweenLayersS?: number | undefined
  /** Layers at the build plate, exposed longer. Default 5: common practice, no source. */
  readonly baseLayers?: number | undefined
  /** Exposure of each of them, s. Default 30: common practice, no source. */
  readonly baseExposureS?: number | undefined
}

/** How long each rung takes to print, s, one print a rung: layers times (exposure + what passes between). */
export function printTimesS({
  exposuresS,
  layerUm,
  heightMm,
  betweenLayersS = 8,
  baseLayers = 5,
  baseExposureS = 30,
}: PrintTime): number[] {
  const layers = Math.ceil((1000 * heightMm) / layerUm)
  const base = Math.min(baseLayers, layers)
  return exposuresS.map((exposureS) => layers * betweenLayersS + base * baseExposureS + (layers - base) * exposureS)
}
