import { createHash } from 'node:crypto'
import { Transform } from 'node:stream'
import { Type, type Static } from 'typebox'

export const MANIFEST = 'manifest.json'
export const DATABASE = 'stepglass.sqlite'
export const SIGNING_KEY = 'signing-key.pem'

/** The last file of a backup: what the others must be. */
export const Manifest = Type.Object({
  schema: Type.Literal('stepglass-backup-1'),
  createdAt: Type.String(),
  databaseVersion: Type.Integer(),
  photos: Type.Integer({ description: 'photographs on record' }),
  readings: Type.Integer({ description: 'readings on record' }),
  files: Type.Record(
    Type.String(),
    Type.Object({ bytes: Type.Integer(), sha256: Type.String() }, { additionalProperties: false }),
  ),
  missing: Type.Array(Type.String(), { description: 'photographs on record whose file was gone already' }),
  damaged: Type.Array(Type.String(), { description: 'photographs whose file was not as it came' }),
})
export type Manifest = Static<typeof Manifest>

/** Lets bytes through and tells at their end how many they were and their SHA-256. */
export function checksum(tell: (sum: { bytes: number; sha256: string }) => void): Transform {
  const hash = createHash('sha256')
  let bytes = 0
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      hash.update(chunk)
      bytes += chunk.length
      done(null, chunk)
    },
    flush(done) {
      tell({ bytes, sha256: hash.digest('hex') })
      done()
    },
  })
}
