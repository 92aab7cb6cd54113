import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { runTool } from './debian.js'

/** Texts of the codes that ZBar (Debian: zbar-tools) finds in a picture. */
export function readCodes(picture: Uint8Array): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-code-'))
  try {
    writeFileSync(join(folder, 'picture'), picture)
    const texts = runTool('zbarimg', ['--quiet', '--raw', 'picture'], { cwd: folder }).toString()
    return texts.trimEnd().split('\n')
  } finally {
    rmSync(folder, { recursive: true })
  }
}
