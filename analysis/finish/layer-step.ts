export interface LayerStep {
  /** Height of the steps across the surface, um. */
  readonly heightUm: number
  /** Mean deviation of a sawtooth of that height, um. */
  readonly raUm: number
  /** Root mean square deviation of it, um. */
  readonly rqUm: number
  /** From step to step along the surface, um; absent where there are none. */
  readonly periodUm?: number
  /** What makes the steps. */
  readonly from: 'layers' | 'pixels'
}

/** Layers a millimetre of height: 20 at 50 um. */
export const layersPerMm = (layerUm: number): number => 1000 / layerUm

/**
 * Steps on a wall: layers leave a sawtooth of height h cos(a) with period h / sin(a), pixels one of p sin(45 degrees) at worst.
 *
 * The higher of the two is what sanding must take away. Ra = height / 4, Rq = height / (2 sqrt 3), as of any sawtooth.
 *
 * @param wallDegrees between the wall and the build plate: 90 stands upright, 0 lies flat
 * @param pixelUm edge of a mask pixel; default 0, which leaves pixels out
 * @throws {RangeError} if the layer is not above 0 or the angle not from 0 to 90
 * @see geometry; the same height and Ra stand in texts on roughness of layered parts
 */
export function layerStep(layerUm: number, wallDegrees: number, pixelUm = 0): LayerStep {
  if (!(layerUm > 0 && layerUm < Infinity)) throw new RangeError(`layerStep needs a layer above 0, got ${layerUm}`)
  if (!(wallDegrees >= 0 && wallDegrees <= 90)) {
    throw new RangeError(`layerStep needs an angle from 0 to 90, got ${wallDegrees}`)
  }
  const angle = (wallDegrees * Math.PI) / 180
  // A face that lies flat is one layer: it has no steps.
  const ofLayers = wallDegrees === 0 || wallDegrees === 90 ? 0 : layerUm * Math.cos(angle)
  const ofPixels = pixelUm * Math.SQRT1_2 * Math.sin(angle)
  const from = ofLayers >= ofPixels ? 'layers' : 'pixels'
  const heightUm = Math.max(ofLayers, ofPixels)
  return {
    heightUm,
    raUm: heightUm / 4,
    rqUm: heightUm / (2 * Math.sqrt(3)),
    ...(heightUm > 0 && { periodUm: from === 'layers' ? layerUm / Math.sin(angle) : pixelUm * Math.SQRT2 }),
    from,
  }
}
