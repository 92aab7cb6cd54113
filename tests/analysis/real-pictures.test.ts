import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { measureLadder } from '../../analysis/index.js'
import { decodePhoto } from '../../analysis/image/decode.js'

// Real pictures by other people, which the project does not carry: set STEPGLASS_REAL_PICTURES to a folder with phone
// files (*.jpg, *.heic, *.heif), `orientation/` (one landscape in the eight EXIF orientations, from the exif-samples
// collection) and `invalid/` (JPEGs with damaged metadata). Without it these tests are skipped.
const folder = process.env['STEPGLASS_REAL_PICTURES'] ?? ''
const filesOf = (name: string): string[] => {
  const path = join(folder, name)
  return folder !== '' && existsSync(path)
    ? readdirSync(path)
        .filter((file) => /\.(jpe?g|heic|heif)$/i.test(file))
        .map((file) => join(path, file))
    : []
}

describe.skipIf(folder === '')('real pictures', () => {
  it.each(filesOf('.'))('%s is decoded and holds no card', async (path) => {
    const reading = await measureLadder(readFileSync(path))
    expect('refusal' in reading ? reading.refusal.code : 'read').toMatch(/^(no-card|other-code|too-few-pixels)$/)
  })

  it('the eight EXIF orientations all come out upright', async () => {
    const sizes = await Promise.all(
      filesOf('orientation').map(async (path) => {
        const decoded = await decodePhoto(readFileSync(path))
        return decoded.ok ? `${decoded.value.width} x ${decoded.value.height}` : decoded.refusal.code
      }),
    )
    expect(sizes.length).toBe(8)
    expect(new Set(sizes).size).toBe(1)
  })

  it.each(filesOf('invalid'))('%s is decoded or refused, never a crash', async (path) => {
    const reading = await measureLadder(readFileSync(path))
    expect('refusal' in reading).toBe(true)
  })
})
