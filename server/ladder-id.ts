import { randomInt } from 'node:crypto'

/** No two alike in print: of O and 0, I and 1, Z and 2, S and 5, B and 8 only the digit, and V for U. */
const ALPHABET = '0123456789ACDEFGHJKLMNPQRTVWXY'
const LENGTH = 6

/** A name for a ladder: six characters out of 30, told apart easily when copied by hand. */
export const newLadderId = (): string =>
  Array.from({ length: LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')
