import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { decodePhoto } from '../../analysis/image/decode.js'
import extractSetting from '../../server/worker/extract-setting.js'
import makePicture from '../../server/worker/make-picture.js'

export interface FileTask {
  readonly as: 'photo' | 'picture' | 'sheet'
  readonly files: readonly Uint8Array[]
}

/** Smaller than a card needs, so that each picture is decoded to its end in a moment. */
const LEAST_EDGE_PX = 16

async function outcomeOf(as: FileTask['as'], bytes: Uint8Array, folder: string): Promise<string> {
  if (as === 'photo') {
    const decoded = await decodePhoto(bytes, undefined, LEAST_EDGE_PX)
    if (!decoded.ok) return decoded.refusal.code
    const { width, height, rgb } = decoded.value
    if (rgb.length !== width * height * 3) throw new RangeError(`${rgb.length} bytes for ${width} x ${height} pixels`)
    return 'decoded'
  }
  const path = join(folder, 'file')
  writeFileSync(path, bytes)
  if (as === 'sheet') {
    const found = await extractSetting({ path })
    return found.from === 'nothing' ? found.refusal.code : found.from
  }
  // Whatever is no picture is answered by an exception here; only the process is not to end.
  const converted = join(folder, 'converted')
  const made = await makePicture({ path, converted, width: 64 }).catch(() => undefined)
  rmSync(converted, { force: true })
  return made ? 'shown' : 'no-picture'
}

/** Takes files as the service would, one after the other; tells which one comes next. */
export default async function takeFiles({ as, files }: FileTask, tell: (index: number) => void): Promise<string[]> {
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-fuzz-'))
  const outcomes: string[] = []
  try {
    for (const [i, bytes] of files.entries()) {
      tell(i)
      outcomes.push(await outcomeOf(as, bytes, folder).catch((error: unknown) => `threw: ${String(error)}`))
    }
  } finally {
    rmSync(folder, { recursive: true })
  }
  return outcomes
}
