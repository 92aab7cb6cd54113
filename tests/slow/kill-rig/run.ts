import { runKills, type Moment } from './kill-rig.js'

// npx tsx tests/slow/kill-rig/run.ts [kills] [seed] [kind of round]: in the words of docs/trust.md.
const [kills = '500', seed = '1', only] = process.argv.slice(2)
const started = Date.now()
const report = await runKills({
  kills: Number(kills),
  seed: Number(seed),
  realPhotos: ['samples/demo-ladder.jpg', 'samples/hazy-yellow.jpg'],
  realShare: 0.06,
  ...(only === undefined ? {} : { only: only as Moment }),
  say: (line) => console.error(line),
})
console.log(JSON.stringify({ seconds: Math.round((Date.now() - started) / 1000), ...report }))
process.exitCode = report.faults.length > 0 ? 1 : 0
