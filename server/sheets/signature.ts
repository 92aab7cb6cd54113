import canonicalize from 'canonicalize'
import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  sign,
  verify,
  type KeyObject,
} from 'node:crypto'
import type { Signature, Verification } from '../api/sheets.js'

/** A key pair as text in the PEM form (RFC 7468). */
export const newSigningKey = (): string =>
  generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }) as string

/** Whether a text is a private key that can sign here. */
export function isSigningKey(pem: string): boolean {
  try {
    return createPrivateKey(pem).asymmetricKeyType === 'ed25519'
  } catch {
    return false
  }
}

/** The public half, base64url of 32 bytes. */
export const publicKeyOf = (privatePem: string): string =>
  createPublicKey(createPrivateKey(privatePem)).export({ format: 'jwk' }).x ?? ''

/** First 16 hexadecimal digits of the key's SHA-256 in groups of four: short enough to be read out on the telephone. */
export const fingerprintOf = (publicKey: string): string =>
  (
    createHash('sha256').update(Buffer.from(publicKey, 'base64url')).digest('hex').slice(0, 16).match(/.{4}/g) ?? []
  ).join(' ')

const bytesOf = ({ signature: _, ...content }: { readonly signature?: Signature | undefined }): Buffer =>
  Buffer.from(canonicalize(content) ?? '')

/**
 * Signs all other fields of an object.
 *
 * @see RFC 8032 (Ed25519), RFC 8785 (canonical JSON)
 */
export function signed<T extends { readonly signature?: Signature }>(content: T, privatePem: string): T {
  const value = sign(null, bytesOf(content), createPrivateKey(privatePem)).toString('base64url')
  return { ...content, signature: { algorithm: 'ed25519', publicKey: publicKeyOf(privatePem), value } }
}

function keyFrom(publicKey: string): KeyObject | undefined {
  try {
    return createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x: publicKey }, format: 'jwk' })
  } catch {
    return undefined
  }
}

/** Whether a signed object is as its signer left it, in plain words. @param nameOf what a public key is known as here */
export function verified(
  content: { readonly signature?: Signature },
  nameOf: (publicKey: string) => string | undefined,
): Verification {
  const { signature } = content
  if (!signature)
    return { state: 'unsigned', inWords: 'Not signed: anyone may have written or changed it. Ask whoever sent it.' }
  const { publicKey, value } = signature
  const key = keyFrom(publicKey)
  const intact = key !== undefined && verify(null, bytesOf(content), key, Buffer.from(value, 'base64url'))
  if (!intact)
    return {
      state: 'changed',
      inWords: 'Changed after it was signed: do not use it.',
    }
  const fingerprint = fingerprintOf(publicKey)
  const knownAs = nameOf(publicKey)
  return {
    state: 'intact',
    fingerprint,
    ...(knownAs !== undefined && { knownAs }),
    inWords:
      knownAs === undefined
        ? `Unchanged since it was signed with key ${fingerprint}, which is not known here: ask its maker to read the key out, then give it a name.`
        : `Unchanged since ${knownAs} signed it (key ${fingerprint}).`,
  }
}
