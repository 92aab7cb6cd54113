import { scatteredShare, stackTransmittance } from './rough-surface.js'

export interface CoatGain {
  /** Light through both faces, scattered or not, before and under the coat. */
  readonly transmittance: { readonly bare: number; readonly coated: number }
  /** Share of the light scattered by both faces: lowest and highest of the roughness given. */
  readonly haze: { readonly bare: readonly [number, number]; readonly coated: readonly [number, number] }
}

/**
 * What a smooth coat or dip on both faces wins: the rough face then parts resin from coat instead of resin from air.
 *
 * The coat's own face is taken as smooth, so it must level: a coat as rough as what it covers wins nothing.
 *
 * @param rmsUm lowest and highest roughness of the faces below, um
 * @param index of the cured resin; 1.505 to 1.533 have been measured (Opt. Mater. Express 11 (2021) 3392)
 * @throws {RangeError} if an index is not above 1
 */
export function coatGain(rmsUm: readonly [number, number], index: number, coatIndex: number): CoatGain {
  for (const one of [index, coatIndex])
    if (!(one > 1 && one < 3)) throw new RangeError(`coatGain needs an index above 1, got ${one}`)
  const both = (step: number) => rmsUm.map((rms) => twoFaces(scatteredShare(rms, step))) as [number, number]
  return {
    transmittance: {
      bare: stackTransmittance([1, index, 1]),
      coated: stackTransmittance([1, coatIndex, index, coatIndex, 1]),
    },
    haze: { bare: both(index - 1), coated: both(Math.abs(index - coatIndex)) },
  }
}

/** Scattered by at least one of two like faces. */
export const twoFaces = (share: number): number => 1 - (1 - share) ** 2
