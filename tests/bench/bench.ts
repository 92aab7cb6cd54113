// npm run bench: how long reading a photograph takes, against its decoding alone and against a whole-frame reader.
import { readFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { median } from 'simple-statistics'
import sharp from 'sharp'
import type { LadderReading } from '../../analysis/index.js'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import { runMeasure } from './command-line.js'
import { comparison, interleave, spread, timesAsLong, type Took } from './interleave.js'
import { startSkimagePeer } from './skimage-peer.js'
import { stageTable } from './stages.js'

const PHOTO = 'samples/demo-ladder.jpg'
const COLD_RUNS = 5
const BATCH = 10
const WARM_UPS = 4
const DECODE_PAIRS = 15
const PEER_PAIRS = 5
/** Sharpened: its tone and mask are fitted in turn, and every profile is freed of the mask. */
const SHARPENED = 'samples/demo-ladder-phone.jpg'

const load = () =>
  loadavg()
    .map((n) => n.toFixed(1))
    .join(' ')
const bytes = readFileSync(PHOTO)
const truth = JSON.parse(readFileSync(PHOTO.replace('.jpg', '.truth.json'), 'utf8')) as {
  design: LadderDesign
  rungs: { growthUm: number }[]
}
const { width, height } = await sharp(bytes).metadata()
console.log(`Photograph: ${PHOTO}, simulated, ${width} x ${height} pixels, ${(bytes.length / 1e6).toFixed(1)} MB`)
console.log(`Machine: ${cpus()[0]?.model ?? 'unknown'}, ${cpus().length} processors, Node ${process.version}`)
console.log(`Load average ${load()}. Medians, least and most in brackets.\n`)

// First, while this process is small: see command-line.ts.
runMeasure([PHOTO])
const cold = Array.from({ length: COLD_RUNS }, () => runMeasure([PHOTO]))
const wallS = cold.map((run) => run.wallS)
const peakMb = cold.map((run) => run.peakMb)
console.log(`Cold: the whole process \`stepglass measure PHOTO\`, ${COLD_RUNS} runs; peak as the system counts it`)
console.log(`   clock ${spread(wallS, 2)} s (goal 2), peak memory ${spread(peakMb, 0)} MB (goal 350)`)
const batch = runMeasure(Array<string>(BATCH).fill(PHOTO))
console.log(
  `   one process for ${BATCH} photographs: ${batch.wallS.toFixed(1)} s, peak ${batch.peakMb.toFixed(0)} MB\n`,
)

// The program as it is shipped: what runs the tests adds a call to every inner function.
const built = new URL('../../dist/analysis/', import.meta.url)
const { measureLadder } = (await import(new URL('index.js', built).href)) as typeof import('../../analysis/index.js')
const analyse = () => measureLadder(bytes)
const decode = () => sharp(bytes).raw().toBuffer()

const againstDecode = await interleave([analyse, decode], { rounds: DECODE_PAIRS, warmUps: WARM_UPS })
console.log(`Warm: the whole analysis against sharp's decode to raw RGB, ${DECODE_PAIRS} pairs (goal 2.5)`)
console.log(comparison(['analysis', "sharp's decode"], againstDecode))
console.log('   Its stages by processor time, and the steps of finding the card:')
console.log(await stageTable(measureLadder, built, bytes))
const own = (which: keyof Took) => againstDecode.map(([analysis]) => analysis[which])
console.log(
  `   ${(3.6e6 / median(own('cpuMs'))).toFixed(0)} photographs a core-hour by processor time, ` +
    `${(3.6e6 / median(own('wallMs'))).toFixed(0)} an hour one after another by the clock\n`,
)

const sharpened = readFileSync(SHARPENED)
const againstSharpened = await interleave([() => measureLadder(sharpened), () => sharp(sharpened).raw().toBuffer()], {
  rounds: DECODE_PAIRS,
  warmUps: 1,
})
console.log(`Warm: the same of a photograph that a camera sharpened, ${SHARPENED} (goal 2.5)`)
console.log(`${comparison(['analysis', "sharp's decode"], againstSharpened)}\n`)

const { measureWholeFrame } = await import('./whole-frame-opencv.js')
const peer = () => measureWholeFrame(bytes)
const againstPeer = await interleave([analyse, peer], { rounds: PEER_PAIRS, warmUps: 2 })
console.log(`Warm: the whole analysis against a whole-frame reader on opencv-wasm, ${PEER_PAIRS} pairs`)
console.log('   The reader gives growth alone; tests/bench/whole-frame-opencv.ts says what it leaves out.')
console.log(comparison(['analysis', 'whole-frame reader'], againstPeer))
console.log(`   The reader takes ${timesAsLong(againstPeer)} as long (goal 3)\n`)

const script = await startSkimagePeer(PHOTO, truth.design)
console.log(`Warm: the whole analysis against tests/peers/skimage_reader.py, ${PEER_PAIRS} pairs`)
let scriptGrowthUm: number[] | undefined
if (script) {
  const againstScript = await interleave([analyse, () => script.run()], { rounds: PEER_PAIRS, warmUps: 1 })
  scriptGrowthUm = (await script.run()).growthUm
  script.stop()
  console.log(comparison(['analysis', 'scikit-image script'], againstScript))
  console.log(`   The script takes ${timesAsLong(againstScript)} as long (goal 10)`)
} else console.log('   skipped: no Python with scikit-image and scipy here')

const found = {
  analysis: growthOf(await analyse()),
  'whole-frame reader': await peer(),
  ...(scriptGrowthUm ? { 'scikit-image script': scriptGrowthUm } : {}),
}
console.log(`\nGrowth, um per side: the truth, and the error of each`)
const row = (name: string, values: readonly (number | undefined)[]) =>
  console.log(`   ${name.padEnd(20)}${values.map((v) => (v?.toFixed(2) ?? 'unread').padStart(9)).join('')}`)
const growthUm = truth.rungs.map((rung) => rung.growthUm)
row('truth', growthUm)
for (const [name, values] of Object.entries(found))
  row(
    name,
    growthUm.map((truth, i) => {
      const value = values[i]
      return value === undefined ? undefined : value - truth
    }),
  )
console.log(`\nLoad average at the end ${load()}.`)

function growthOf(reading: LadderReading): (number | undefined)[] {
  if ('refusal' in reading) throw new Error(`the photograph was refused: ${reading.refusal.code}`)
  return reading.rungs.map((rung) => ('growthUm' in rung ? rung.growthUm.value : undefined))
}
