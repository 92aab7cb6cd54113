import { createPublicKey, verify } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { labelPart, labelText, readLabelText } from '../../../server/sheets/label-text.js'
import { fingerprintOf, newSigningKey, publicKeyOf, signed, verified } from '../../../server/sheets/signature.js'
import { anySheet, fullSheet } from './sheets.js'

const pem = newSigningKey()
const publicKey = publicKeyOf(pem)
const nobody = () => undefined

describe('a signed sheet', () => {
  it('is intact as it is, and changed when any word or number is', () => {
    const sheet = signed(fullSheet, pem)
    expect(verified(sheet, nobody)).toMatchObject({ state: 'intact', fingerprint: fingerprintOf(publicKey) })
    for (const edited of [
      { ...sheet, exposureS: 2.8 },
      { ...sheet, note: 'x' },
      { ...sheet, madeBy: `${sheet.madeBy} ` },
      {
        ...sheet,
        signature: { ...sheet.signature!, value: sheet.signature!.value.replace(/^./, (c) => (c === 'A' ? 'B' : 'A')) },
      },
      { ...sheet, signature: { ...sheet.signature!, publicKey: publicKeyOf(newSigningKey()) } },
    ])
      expect(verified(edited, nobody).state).toBe('changed')
  })

  it('does not depend on the order of its fields', () => {
    const sheet = signed(fullSheet, pem)
    const turned = Object.fromEntries(Object.entries(sheet).reverse())
    expect(verified(turned, nobody).state).toBe('intact')
  })

  it('tells in words who signed it, where the key is known', () => {
    const sheet = signed(fullSheet, pem)
    expect(verified(sheet, (key) => (key === publicKey ? 'Canal works' : undefined)).inWords).toContain('Canal works')
    expect(verified(sheet, nobody).inWords).toContain('not known here')
    expect(verified(fullSheet, nobody).state).toBe('unsigned')
  })

  it('survives the way over a label, signed as a part', () => {
    fc.assert(
      fc.property(anySheet, (sheet) => {
        const back = readLabelText(labelText(signed(labelPart(sheet), pem)))
        expect(back && verified(back, nobody).state).toBe('intact')
      }),
      { numRuns: 100 },
    )
  })

  it('leaves the signature of the whole sheet off the label, where it would mean nothing', () => {
    expect(labelPart(signed(fullSheet, pem)).signature).toBeUndefined()
  })
})

it('verifies the test vector of RFC 8032, section 7.1, test 3, by the same key form', () => {
  // Source: RFC 8032, 7.1, TEST 3: message af82.
  const x = Buffer.from('fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025', 'hex').toString('base64url')
  const value = Buffer.from(
    '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
    'hex',
  )
  const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' })
  expect(verify(null, Buffer.from('af82', 'hex'), key, value)).toBe(true)
})
