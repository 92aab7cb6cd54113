import * as fc from 'fast-check'
import { Value } from 'typebox/value'
import { expect, it } from 'vitest'
import { decodeCardCode, encodeCardCode } from '../../../analysis/layout/card-code.js'
import { LadderDesign } from '../../../analysis/layout/schema.js'
import { designs, printedDesigns } from '../../support/designs.js'

it('reads back every design it wrote', () => {
  fc.assert(
    fc.property(printedDesigns, (design) => {
      expect(decodeCardCode(encodeCardCode(design))).toEqual({ kind: 'card', design })
    }),
  )
})

it('writes only what the alphanumeric mode of a QR code can hold', () => {
  fc.assert(
    fc.property(designs, (design) => {
      // ISO/IEC 18004:2015, table 5.
      expect(encodeCardCode(design)).toMatch(/^[0-9A-Z $%*+\-./:]+$/)
    }),
  )
})

/** A written code with some characters changed, dropped or put in. */
const damaged = fc
  .tuple(
    printedDesigns,
    fc.array(fc.tuple(fc.nat(), fc.nat(2), fc.string({ maxLength: 3 })), { minLength: 1, maxLength: 4 }),
  )
  .map(([design, changes]) =>
    changes.reduce((text, [place, length, put]) => {
      const at = place % (text.length + 1)
      return text.slice(0, at) + put + text.slice(at + length)
    }, encodeCardCode(design)),
  )

it('takes any text, and never reads a design out of it that the schema forbids', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'grapheme' }), damaged), (text) => {
      const code = decodeCardCode(text)
      if (code.kind !== 'card') return
      expect(Value.Check(LadderDesign, code.design)).toBe(true)
      expect(decodeCardCode(encodeCardCode(code.design))).toEqual(code)
    }),
    { numRuns: 500 },
  )
})

it.each([
  ['nothing', ''],
  ['an address', 'https://example.org/STEPGLASS:3:K7Q2XN:50:34:2'],
  ['another case', 'stepglass:3:K7Q2XN:50:34:2'],
  ['a field too few', 'STEPGLASS:3:K7Q2XN:50:34'],
  ['a field too many', 'STEPGLASS:3:K7Q2XN:50:34:2:7'],
  ['an empty exposure', 'STEPGLASS:3:K7Q2XN:50:34:2//3'],
  ['an exposure of zero', 'STEPGLASS:3:K7Q2XN:50:34:0'],
  ['an endless exposure', 'STEPGLASS:3:K7Q2XN:50:34:Infinity'],
  ['no number', 'STEPGLASS:3:K7Q2XN:NaN:34:2'],
  ['nine exposures', 'STEPGLASS:3:K7Q2XN:50:34:1/2/3/4/5/6/7/8/9'],
  ['markup for a name', 'STEPGLASS:3:<b>X</b>:50:34:2'],
  ['a layer beyond any printer', 'STEPGLASS:3:K7Q2XN:5000:34:2'],
])('calls %s foreign', (_, text) => {
  expect(decodeCardCode(text)).toEqual({ kind: 'foreign' })
})

it.each([
  ['an unknown factor', 'STEPGLASS:4:K7Q2XN:50:34:2:XX:0/5'],
  ['a level too few', 'STEPGLASS:4:K7Q2XN:50:34:2:PT:5'],
  ['nine levels', 'STEPGLASS:4:K7Q2XN:50:34:2:PT:0/1/2/3/4/5/6/7/8'],
  ['equal levels', 'STEPGLASS:4:K7Q2XN:50:34:2:PT:5/5'],
  ['a name for a number', 'STEPGLASS:4:K7Q2XN:50:34:2:PT:0/LONG'],
  ['a number written otherwise', 'STEPGLASS:4:K7Q2XN:50:34:2:PT:0/05'],
  ['a grit without its scale', 'STEPGLASS:4:K7Q2XN:50:34:2:GR:P400/800'],
  ['two exposures', 'STEPGLASS:4:K7Q2XN:50:34:2/3:PT:0/5'],
])('calls a card of levels with %s foreign', (_, text) => {
  expect(decodeCardCode(text)).toEqual({ kind: 'foreign' })
})

it.each([
  ['1', { cardEdition: 1 }],
  ['3', {}],
])('reads the cards of exposures that are printed already, version %s', (version, edition) => {
  expect(decodeCardCode(`STEPGLASS:${version}:K7Q2XN:50:34:1.6/2/2.5`)).toEqual({
    kind: 'card',
    design: { ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.5], ...edition },
  })
})

it.each([
  ['2', { cardEdition: 1 }],
  ['4', {}],
])('reads what the rungs of a process differ in, and gives all its one exposure, version %s', (version, edition) => {
  expect(decodeCardCode(`STEPGLASS:${version}:K7Q2XN:50:34:2.5:GR:NONE/P800/J2000`)).toEqual({
    kind: 'card',
    design: {
      ...{ ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2.5, 2.5, 2.5] },
      ...{ factor: 'grit', levels: ['NONE', 'P800', 'J2000'], ...edition },
    },
  })
})

it('needs no larger code for levels than for exposures', () => {
  // Version 4 with correction M holds 90 characters of the alphanumeric mode (ISO/IEC 18004:2015, table 7).
  fc.assert(
    fc.property(designs, (design) => {
      expect(encodeCardCode(design).length).toBeLessThanOrEqual(90)
    }),
  )
})

it('tells a card of a newer version from a foreign code', () => {
  expect(decodeCardCode('STEPGLASS:5:what it then holds')).toEqual({ kind: 'newer-version', version: '5' })
})
