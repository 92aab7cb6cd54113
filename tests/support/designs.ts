import * as fc from 'fast-check'
import type { LadderDesign } from '../../analysis/index.js'

const characters = [...'0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ']
const ladderId = fc.string({ unit: fc.constantFrom(...characters), minLength: 4, maxLength: 10 })

/** Exposures as a printer takes them: at most four digits. */
const setting = fc.oneof(
  fc.integer({ min: 1, max: 9999 }).map((n) => n / 1000),
  fc.integer({ min: 1, max: 9999 }).map((n) => n / 100),
  fc.integer({ min: 1, max: 9990 }).map((n) => n / 10),
)

/** Ladders for any printer and layer height, in numbers as a data sheet gives them. */
export const designs: fc.Arbitrary<LadderDesign> = fc.record({
  ladderId,
  layerHeightUm: fc.integer({ min: 100, max: 3000 }).map((n) => n / 10),
  pixelPitchUm: fc.integer({ min: 800, max: 12000 }).map((n) => n / 100),
  exposuresS: fc.array(setting, { minLength: 1, maxLength: 8 }),
})
