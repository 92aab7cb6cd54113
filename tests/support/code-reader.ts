import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** Texts of the codes that ZBar (Debian: zbar-tools) finds in a picture. */
export function readCodes(picture: Uint8Array): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-code-'))
  try {
    writeFileSync(join(folder, 'picture'), picture)
    const { stdout } = spawnSync('zbarimg', ['--quiet', '--raw', join(folder, 'picture')], { encoding: 'utf8' })
    return stdout.split('\n').filter((line) => line !== '')
  } finally {
    rmSync(folder, { recursive: true })
  }
}
