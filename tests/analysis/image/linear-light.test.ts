import { expect, it } from 'vitest'
import {
  channelTable,
  lightFromCode,
  linearFromSrgb,
  lumaIndex,
  lumaTable,
  SRGB_TONE,
} from '../../../analysis/image/linear-light.js'

// IEC 61966-2-1; values as printed by the colour-science library's sRGB module (srgb.py), eight digits.
it.each([
  [10 / 255, 0.00303527],
  [11 / 255, 0.00334654],
  [128 / 255, 0.2158605],
  [188 / 255, 0.50288646],
])('decodes the sRGB value %f as the standard does', (encoded, light) => {
  // Half a unit of the last digit printed.
  expect(Math.abs(linearFromSrgb(encoded) - light)).toBeLessThan(5e-9)
})

it('undoes an S-curve and an exponent exactly', () => {
  const tone = { exponent: 1.1, contrast: 0.3 }
  for (const light of [0.01, 0.05, 0.2, 0.5, 0.8]) {
    const encodedLight = light ** tone.exponent
    const v = encodedLight <= 0.0031308 ? 12.92 * encodedLight : 1.055 * encodedLight ** (1 / 2.4) - 0.055
    const code = v + 2 * tone.contrast * v * (1 - v) * (2 * v - 1)
    expect(lightFromCode(code, tone)).toBeCloseTo(light, 9)
  }
})

it('tables run from no light to full light without a step back', () => {
  for (const table of [lumaTable(SRGB_TONE), channelTable({ exponent: 0.9, contrast: 0.25 })]) {
    expect(table[0]).toBe(0)
    expect(table[table.length - 1]).toBeCloseTo(1, 6)
    expect(Array.from(table).every((value, i) => i === 0 || value >= (table[i - 1] ?? 0))).toBe(true)
  }
})

it('luma of a grey pixel is four times its value', () => {
  for (let grey = 0; grey < 256; grey++) expect(lumaIndex(grey, grey, grey)).toBe(grey * 4)
})
