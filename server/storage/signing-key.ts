import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { newSigningKey } from '../sheets/signature.js'

/** The key with which this service signs sheets: a file of the data folder that only its owner may read. */
export function signingKey(dataFolder: string) {
  const path = join(dataFolder, 'signing-key.pem')
  return {
    /** The private key as PEM, made when first wanted. */
    async pem(): Promise<string> {
      try {
        return await readFile(path, 'utf8')
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error
      }
      // Never over a key that came in between: sheets out in the world are signed with it.
      await writeFile(path, newSigningKey(), { flag: 'wx', mode: 0o600 }).catch((error: NodeJS.ErrnoException) => {
        if (error.code !== 'EEXIST') throw error
      })
      return readFile(path, 'utf8')
    },
  }
}
export type SigningKey = ReturnType<typeof signingKey>
