import { createHmac, randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import { promisify } from 'node:util'

/**
 * Cost of one guess: 32 MB and some tenths of a second.
 *
 * @see RFC 7914; N = 2^15, r = 8, p = 3 as in the OWASP Password Storage Cheat Sheet [from memory]
 */
const COST = { N: 2 ** 15, r: 8, p: 3, maxmem: 64 * 2 ** 20 }
const KEY_BYTES = 32
const SESSION_MS = 30 * 86_400_000
/** Guesses worked on at the same time; further ones are sent away, so that guessing fills neither memory nor cores. */
const MOST_AT_ONCE = 2

type Scrypt = (text: string, salt: string, bytes: number, cost: typeof COST) => Promise<Buffer>
const slowHash = promisify(scrypt) as Scrypt

const hmac = (key: Uint8Array, text: string) => createHmac('sha256', key).update(text).digest()

/** Too many guesses are being looked at: ask again. */
export class TooManyGuesses extends Error {}

/**
 * The passphrase as a slow hash, and sessions for whoever knew it. Both come from the passphrase alone: a session
 * outlives a restart and holds at every process that has the same passphrase, and another passphrase ends them all.
 */
export async function passphraseGate(passphrase: string, now: () => number = Date.now) {
  // Nothing of this is stored, so a salt of its own for each installation would protect nothing.
  const derive = (text: string) => slowHash(text.normalize('NFC'), 'stepglass sign-in 1', 2 * KEY_BYTES, COST)
  const derived = await derive(passphrase)
  const expected = derived.subarray(0, KEY_BYTES)
  const sessionKey = derived.subarray(KEY_BYTES)
  // A program sends the passphrase with every request; the slow way is gone once.
  const quickKey = randomBytes(KEY_BYTES)
  let knownRight: Buffer | undefined
  let atOnce = 0

  return {
    /** @throws {TooManyGuesses} */
    async isRight(given: string): Promise<boolean> {
      const quick = hmac(quickKey, given)
      if (knownRight && timingSafeEqual(quick, knownRight)) return true
      if (atOnce >= MOST_AT_ONCE) throw new TooManyGuesses('too many guesses at once')
      atOnce++
      try {
        const right = timingSafeEqual((await derive(given)).subarray(0, KEY_BYTES), expected)
        if (right) knownRight = quick
        return right
      } finally {
        atOnce--
      }
    },

    /** A session that ends after thirty days: when it ends, a random part, and a seal over both. */
    newSession(): { readonly token: string; readonly maxAgeS: number } {
      const open = `${now() + SESSION_MS}.${randomBytes(12).toString('base64url')}`
      return { token: `${open}.${hmac(sessionKey, open).toString('base64url')}`, maxAgeS: SESSION_MS / 1000 }
    },

    isSession(token: string): boolean {
      const [, open = '', endsMs = '', seal = ''] =
        /^((\d{1,15})\.[A-Za-z0-9_-]{16})\.([A-Za-z0-9_-]{43})$/.exec(token) ?? []
      // As text: of the last letter of base64 some bits say nothing, and no other cookie is to be this one.
      const right = Buffer.from(hmac(sessionKey, open).toString('base64url'))
      const given = Buffer.from(seal)
      return given.length === right.length && timingSafeEqual(given, right) && Number(endsMs) > now()
    },
  }
}
export type PassphraseGate = Awaited<ReturnType<typeof passphraseGate>>
