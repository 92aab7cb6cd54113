/** How a camera's code values follow from light, beyond sRGB. The identity is exponent 1, contrast 0. */
export interface Tone {
  /** Light is raised to this power before encoding. */
  readonly exponent: number
  /** S-shape about middle grey added to the encoded value v: 2 s v (1 - v) (2 v - 1). */
  readonly contrast: number
}

export const SRGB_TONE: Tone = { exponent: 1, contrast: 0 }

/**
 * Linear light of an sRGB code value.
 *
 * @param encoded 0 to 1
 * @see IEC 61966-2-1
 */
export const linearFromSrgb = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4

const addContrast = (v: number, contrast: number): number => v + 2 * contrast * v * (1 - v) * (2 * v - 1)

/** Undoes `addContrast`; it is monotone for contrasts between -0.5 and 1, so Newton's steps from v itself arrive. */
function removeContrast(v: number, contrast: number): number {
  let x = v
  for (let i = 0; i < 8; i++) {
    const step = (addContrast(x, contrast) - v) / (1 + 2 * contrast * (-1 + 6 * x - 6 * x * x))
    x -= step
    // The next step would be of the order of its square.
    if (Math.abs(step) < 1e-8) break
  }
  return Math.min(1, Math.max(0, x))
}

/** Light, on the sensor's scale of 0 to 1, of an encoded value of 0 to 1. */
export const lightFromCode = (encoded: number, { exponent, contrast }: Tone): number =>
  linearFromSrgb(removeContrast(encoded, contrast)) ** (1 / exponent)

/**
 * sRGB code value of linear light.
 *
 * @param light 0 to 1
 * @see IEC 61966-2-1
 */
export const srgbFromLinear = (light: number): number =>
  light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055

/** Encoded value, 0 to 1, that a camera of this tone gives light: undoes `lightFromCode`. */
export const codeFromLight = (light: number, { exponent, contrast }: Tone): number =>
  addContrast(srgbFromLinear(Math.max(0, light) ** exponent), contrast)

/** Steps of the luma table: luma is kept in quarters of an 8-bit code value. */
export const LUMA_STEPS = 255 * 4

/** Light for each quarter step of luma, shape (1021). */
export const lumaTable = (tone: Tone): Float32Array => lightTable(LUMA_STEPS, tone)

/** Light for each code value of one channel, shape (256). */
export const channelTable = (tone: Tone): Float32Array => lightTable(255, tone)

function lightTable(steps: number, tone: Tone): Float32Array {
  const table = new Float32Array(steps + 1)
  for (let i = 0; i <= steps; i++) table[i] = lightFromCode(i / steps, tone)
  return table
}

/**
 * Luma of a pixel in quarters of a code value, 0 to 1020: weights of ITU-R BT.601, which JPEG uses.
 *
 * Luma, not green: chroma of a 4:2:0 JPEG is blurred and would move edges.
 */
export const lumaIndex = (r: number, g: number, b: number): number => (77 * r + 150 * g + 29 * b) >> 6
