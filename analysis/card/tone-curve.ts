import { codeFromLight, linearFromSrgb, srgbFromLinear, type Tone } from '../image/linear-light.js'
import type { ReadLadder } from '../result.js'

const STEPS = 40

/**
 * Code values that a camera of this tone gives to greys from black to paper white, with those of plain sRGB that meets it
 * at the paper: for drawing.
 *
 * @param paperLight light of bare paper on the sensor's scale of 0 to 1
 */
export function toneCurve(tone: Tone, paperLight: number): NonNullable<ReadLadder['tone']['curve']> {
  const srgbPaper = linearFromSrgb(codeFromLight(paperLight, tone))
  return Array.from({ length: STEPS + 1 }, (_, i) => {
    // Closer together in the dark, where the curve is steep.
    const light = (i / STEPS) ** 2
    return {
      light,
      codeValue: codeFromLight(light * paperLight, tone),
      srgbCodeValue: srgbFromLinear(light * srgbPaper),
    }
  })
}
