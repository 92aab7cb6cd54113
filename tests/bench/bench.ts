// npm run bench: how long reading a photograph takes, against its decoding alone and against two other readers.
// It runs with the room for short-lived objects that readers have, see server/worker/process-pool.ts.
import { readFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { median } from 'simple-statistics'
import sharp from 'sharp'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import type { PeerReading } from '../peers/peer-reading.js'
import { skimagePython, startSkimagePeer } from '../peers/skimage-peer.js'
import { agreementTable, type TrueRung } from './agreement.js'
import { runMeasure } from './command-line.js'
import { comparison, interleave, spread, timesAsLong, type Took } from './interleave.js'
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
  rungs: TrueRung[]
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
console.log(`Warm: the whole analysis against sharp's decode to raw RGB, ${DECODE_PAIRS} pairs (goal 2)`)
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

const { readWholeFrame } = await import('../peers/whole-frame/read-photo.js')
const againstPeer = await interleave([analyse, () => readWholeFrame(bytes)], { rounds: PEER_PAIRS, warmUps: 2 })
console.log(`Warm: the whole analysis against a whole-frame reader on opencv-wasm, ${PEER_PAIRS} pairs`)
console.log('   tests/peers/whole-frame/read-photo.ts says what it leaves out.')
console.log(comparison(['analysis', 'whole-frame reader'], againstPeer))
console.log(`   The reader takes ${timesAsLong(againstPeer)} as long (goal 3)\n`)

const python = skimagePython()
console.log(`Warm: the whole analysis against a reader on scikit-image and scipy, ${PEER_PAIRS} pairs`)
let scriptReading: PeerReading | undefined
if (python !== undefined) {
  const script = await startSkimagePeer(python, truth.design)
  const againstScript = await interleave([analyse, () => script.read(PHOTO)], { rounds: PEER_PAIRS, warmUps: 1 })
  scriptReading = (await script.read(PHOTO)).reading
  script.stop()
  console.log('   tests/peers/skimage/read_photo.py says what it leaves out.')
  console.log(comparison(['analysis', 'scikit-image reader'], againstScript))
  console.log(`   The reader takes ${timesAsLong(againstScript)} as long (goal 10)`)
} else console.log('   skipped: no Python with scikit-image and scipy here')

console.log('\nWhat each of them reads, rung by rung, and what is true:')
console.log(
  agreementTable(truth.rungs, {
    analysis: await analyse(),
    'whole-frame reader': await readWholeFrame(bytes),
    ...(scriptReading ? { 'scikit-image reader': scriptReading } : {}),
  }),
)
console.log(`\nLoad average at the end ${load()}.`)
