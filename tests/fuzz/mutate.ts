import fc from 'fast-check'

type Mutation = (bytes: Uint8Array) => Uint8Array

const at = (bytes: Uint8Array, share: number) => Math.min(bytes.length - 1, Math.floor(share * bytes.length))
const share = fc.double({ min: 0, max: 1, noNaN: true })
// Mostly behind the first bytes, or hardly any file is taken for a picture; often near them, where its size stands.
const place = fc.oneof(
  { weight: 1, arbitrary: share },
  { weight: 4, arbitrary: share.map((one) => 0.02 + 0.98 * one) },
  { weight: 4, arbitrary: share.map((one) => 0.02 + 0.98 * one ** 3) },
)
const extreme = fc.constantFrom(0, 1, 0x7f, 0x80, 0xff)

function overwritten(bytes: Uint8Array, from: number, values: readonly number[]): Uint8Array {
  const changed = Uint8Array.from(bytes)
  values.forEach((value, i) => {
    if (from + i < changed.length) changed[from + i] = value
  })
  return changed
}

const mutation: fc.Arbitrary<Mutation> = fc.oneof(
  // cut off
  place.map((share) => (bytes: Uint8Array) => bytes.subarray(0, at(bytes, share))),
  // one bit the other way
  fc.tuple(place, fc.nat(7)).map(([share, bit]) => (bytes: Uint8Array) => {
    const i = at(bytes, share)
    return i < 0 ? bytes : overwritten(bytes, i, [(bytes[i] ?? 0) ^ (1 << bit)])
  }),
  // a number as large or small as it can be
  fc.tuple(place, fc.array(extreme, { minLength: 1, maxLength: 8 })).map(
    ([share, values]) =>
      (bytes: Uint8Array) =>
        overwritten(bytes, at(bytes, share), values),
  ),
  // noise
  fc.tuple(place, fc.uint8Array({ minLength: 1, maxLength: 40 })).map(
    ([share, noise]) =>
      (bytes: Uint8Array) =>
        overwritten(bytes, at(bytes, share), [...noise]),
  ),
  // a piece taken out, or there twice
  fc.tuple(place, place, fc.boolean()).map(([one, other, twice]) => (bytes: Uint8Array) => {
    const [from, to] = [at(bytes, Math.min(one, other)), at(bytes, Math.max(one, other))]
    return Buffer.concat([bytes.subarray(0, twice ? to : from), bytes.subarray(twice ? from : to)])
  }),
  // something behind its end
  fc.uint8Array({ maxLength: 60 }).map((more) => (bytes: Uint8Array) => Buffer.concat([bytes, more])),
)

/** One of the files, changed in one to three places. */
export const mutated = (files: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(fc.constantFrom(...files), fc.array(mutation, { minLength: 1, maxLength: 3 }))
    .map(([file, changes]) => changes.reduce((bytes, change) => change(bytes), file))

/** One file in another: a program that looks at the start sees the one, one that looks at the end the other. */
export const polyglot = (files: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(fc.constantFrom(...files), fc.constantFrom(...files), place)
    .map(([outer, inner, share]) =>
      Buffer.concat([outer.subarray(0, at(outer, share)), inner, outer.subarray(at(outer, share))]),
    )
