/** Refractive index of cured acrylate resins: 1.50 to 1.53; from memory. */
export const REFRACTIVE_INDEX = 1.51
