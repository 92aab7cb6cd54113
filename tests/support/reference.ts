import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** Reads `tests/reference/<name>.json`; each such file names its own source. */
export function readReference<T>(name: string): T {
  return JSON.parse(readFileSync(join('tests/reference', `${name}.json`), 'utf8')) as T
}
