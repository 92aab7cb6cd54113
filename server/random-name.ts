import { randomInt } from 'node:crypto'

/** No two alike in print: of O and 0, I and 1, Z and 2, S and 5, B and 8 only the digit, and V for U. */
const ALPHABET = '0123456789ACDEFGHJKLMNPQRTVWXY'

/** Characters out of 30, drawn so that nobody can guess them, told apart easily when copied by hand. */
export const randomName = (length: number): string =>
  Array.from({ length }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')

/** A name for a ladder. */
export const newLadderId = (): string => randomName(6)
