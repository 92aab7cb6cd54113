import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import sharp from 'sharp'
import { drawPhoto, type DrawPhotoOptions, type PhotoTruth } from '../support/drawn-photo.js'

const root = new URL('../../', import.meta.url)
const folder = new URL('.cache/drawn/', root)

/**
 * A drawn photograph and its truth, kept in `.cache/drawn` for the next time, since drawing one takes ten times as long as
 * reading it.
 *
 * Its name is a hash of its options and of all code that draws, so that no change of either meets an old picture.
 */
export async function drawnPhoto(options: DrawPhotoOptions): Promise<{ file: Buffer; truth: PhotoTruth }> {
  const name = photoName(options)
  const [picture, facts] = [new URL(`${name}.jpg`, folder), new URL(`${name}.json`, folder)]
  try {
    return { truth: JSON.parse(readFileSync(facts, 'utf8')) as PhotoTruth, file: readFileSync(picture) }
  } catch {
    const drawn = await drawPhoto(options)
    mkdirSync(folder, { recursive: true })
    writeFileSync(picture, drawn.file)
    // Last and at once: its presence says that both are whole.
    const unfinished = new URL(`${name}.part`, folder)
    writeFileSync(unfinished, JSON.stringify(drawn.truth))
    renameSync(unfinished, facts)
    return drawn
  }
}

const photoName = (options: DrawPhotoOptions): string =>
  createHash('sha256').update(drawingCode()).update(JSON.stringify(options)).digest('hex').slice(0, 24)

let code: string | undefined

/** What draws, and the versions of the library that encodes. */
function drawingCode(): string {
  const support = new URL('tests/support/', root)
  const files = readdirSync(new URL('drawn/', support)).filter((file) => !file.endsWith('.test.ts'))
  const texts = ['drawn-photo.ts', ...files.sort().map((file) => `drawn/${file}`)].map((file) =>
    readFileSync(new URL(file, support), 'utf8'),
  )
  return (code ??= [JSON.stringify(sharp.versions), ...texts].join('\n'))
}
