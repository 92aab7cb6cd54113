/** Middle of the visible, um. */
const WAVELENGTH_UM = 0.55

/**
 * Share of the light that a rough face scatters out of the straight beam: 1 - exp(-(2 pi dn sigma / lambda)^2).
 *
 * Only scratches finer than lambda / sin(2.5 degrees), 13 um, send it where haze is counted; longer waves cost
 * clarity instead. Holds for smooth slopes, sigma far below the length of the scratches.
 *
 * @param rmsUm root mean square roughness sigma
 * @param indexStep difference of refractive index across the face: n - 1 in air, n - n of the coat under one
 * @see P. Beckmann, A. Spizzichino, The Scattering of Electromagnetic Waves from Rough Surfaces (1963);
 *   C. K. Carniglia, Opt. Eng. 18 (1979) 104 [both from memory]
 */
export function scatteredShare(rmsUm: number, indexStep: number): number {
  return -Math.expm1(-(((2 * Math.PI * indexStep * rmsUm) / WAVELENGTH_UM) ** 2))
}

/** Fresnel reflectance of one face at normal incidence: ((a - b) / (a + b))^2. */
export const faceReflectance = (a: number, b: number): number => ((a - b) / (a + b)) ** 2

/**
 * Transmittance of faces in a row, all reflections between them added as light, nothing absorbed:
 * 1 / (1 + sum R / (1 - R)).
 *
 * @param indices refractive index of each medium on the way, air first and last
 * @example stackTransmittance([1, 1.52, 1]) // 0.918: 2n / (n^2 + 1)
 */
export function stackTransmittance(indices: readonly number[]): number {
  const lost = indices.slice(1).reduce((sum, next, i) => {
    const r = faceReflectance(indices[i]!, next)
    return sum + r / (1 - r)
  }, 0)
  return 1 / (1 + lost)
}
