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

const common = {
  ladderId,
  layerHeightUm: fc.integer({ min: 100, max: 3000 }).map((n) => n / 10),
  pixelPitchUm: fc.integer({ min: 800, max: 12000 }).map((n) => n / 100),
}
const exposureLadders = fc.record({ ...common, exposuresS: fc.array(setting, { minLength: 1, maxLength: 8 }) })

const name = fc
  .string({ unit: fc.constantFrom(...characters), minLength: 2, maxLength: 8 })
  .map((text) => `P${text}`.slice(0, 8))
const levelsOf = (level: fc.Arbitrary<string>) => fc.uniqueArray(level, { minLength: 2, maxLength: 8 })
const numbered = fc.constantFrom('post-cure-time', 'post-cure-stages', 'stand-time', 'resin-temperature', 'age')
const levelled = fc.oneof(
  fc.record({ factor: numbered, levels: levelsOf(fc.integer({ min: 0, max: 9999 }).map(String)) }),
  fc.record({ factor: fc.constantFrom('grit', 'coat'), levels: levelsOf(name) }),
)

/** Ladders of anything for any printer and layer height, in numbers as a data sheet gives them. */
export const designs: fc.Arbitrary<LadderDesign> = fc.oneof(
  exposureLadders,
  fc
    .tuple(fc.record({ ...common, exposureS: setting }), levelled)
    .filter(([, { levels }]) => levels.join('/').length <= 40)
    .map(([{ exposureS, ...rest }, { factor, levels }]) => ({
      ...rest,
      exposuresS: levels.map(() => exposureS),
      factor,
      levels,
    })),
)

/** The same, some on cards of the first edition. */
export const printedDesigns: fc.Arbitrary<LadderDesign> = fc
  .tuple(designs, fc.boolean())
  .map(([design, isFirst]) => (isFirst ? { ...design, cardEdition: 1 } : design))
