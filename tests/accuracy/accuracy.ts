// npm run accuracy: reads several hundred simulated coupons whose truth is known and writes what came of it to docs/.
import { readFileSync, writeFileSync } from 'node:fs'
import { Piscina } from 'piscina'
import { format } from 'prettier'
import { drawnCases, SEEDS } from './cases.js'
import type { PhotoRecord } from './records.js'
import { readSamples } from './read-samples.js'
import { readWindowCrops } from './read-windows.js'
import { report } from './report.js'

const docs = new URL('../../docs/', import.meta.url)
const JSON_FILE = new URL('accuracy.json', docs)

/** Draws and reads all photographs of the study, two at a time. */
async function readAllDrawn(): Promise<PhotoRecord[]> {
  const cases = drawnCases()
  const pool = new Piscina<(typeof cases)[number], PhotoRecord>({
    filename: new URL('./read-drawn.ts', import.meta.url).href,
    maxThreads: 2,
    execArgv: ['--import', import.meta.resolve('tsx')],
  })
  let done = 0
  const drawn = await Promise.all(
    cases.map(async (each) => {
      const record = await pool.run(each)
      if (++done % 10 === 0) console.log(`${done} of ${cases.length} drawn photographs read`)
      return record
    }),
  )
  await pool.destroy()
  return drawn
}

const started = performance.now()
// `--again` takes the drawn ones from the file and reads the path-traced ones alone.
const drawn = process.argv.includes('--again')
  ? (JSON.parse(readFileSync(JSON_FILE, 'utf8')) as { photos: PhotoRecord[] }).photos.filter(
      ({ group }) => group !== 'path-traced',
    )
  : await readAllDrawn()
const samples = await readSamples()
const photos = [...drawn, ...samples.photos]
const windows = [...(await readWindowCrops()), ...samples.windows]
const style = { printWidth: 120 }
writeFileSync(
  JSON_FILE,
  await format(JSON.stringify({ simulated: true, seeds: SEEDS, photos, windows }), { ...style, parser: 'json' }),
)
writeFileSync(new URL('accuracy.md', docs), await format(report(photos, windows), { ...style, parser: 'markdown' }))
console.log(`docs/accuracy.md written after ${((performance.now() - started) / 1000).toFixed(0)} s`)
