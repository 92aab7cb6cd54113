// npm run readme: writes what the program says of the demo photograph into README.md, and its truth beside it.
import { readFileSync, writeFileSync } from 'node:fs'
import { measureLadder } from '../../analysis/index.js'
import { readingReport } from '../../server/report/reading-report.js'

const PHOTO = 'samples/demo-ladder.jpg'
interface Truth {
  readonly ladder: { readonly doseToSizeS: number; readonly penetrationDepthUm: number }
  readonly rungs: readonly { readonly slot: number; readonly growthUm: number }[]
}

const truth = JSON.parse(readFileSync(PHOTO.replace('.jpg', '.truth.json'), 'utf8')) as Truth
const reading = await measureLadder(readFileSync(PHOTO))
if ('refusal' in reading || !reading.doseToSize) throw new Error('the demo photograph gave no dose-to-size')
const { exposureS, intervalS } = reading.doseToSize
const rows = [
  ...reading.rungs.map((rung) => [
    `growth at ${rung.exposureS} s, um per side`,
    'growthUm' in rung ? rung.growthUm.value.toFixed(1) : 'refused',
    truth.rungs.find(({ slot }) => slot === rung.slot)?.growthUm.toFixed(1) ?? '',
  ]),
  [
    'dose-to-size, s',
    `${exposureS.toFixed(2)} (${intervalS.map((end) => end.toFixed(2)).join(' to ')})`,
    truth.ladder.doseToSizeS.toFixed(2),
  ],
  [
    'penetration depth, um',
    reading.penetrationDepthUm?.value.toFixed(0) ?? 'unread',
    truth.ladder.penetrationDepthUm.toFixed(0),
  ],
]
const widths = ['quantity', 'read', 'truth'].map((head, i) =>
  Math.max(head.length, ...rows.map((row) => row[i]?.length ?? 0)),
)
const line = (cells: readonly string[]) => `| ${cells.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join(' | ')} |`
const table = [
  line(['quantity', 'read', 'truth']),
  line(widths.map((n) => '-'.repeat(n))),
  ...rows.map((row) => line(row)),
].join('\n')

const readme = readFileSync('README.md', 'utf8')
  .replace(/```text\n[\s\S]*?```/, () => `\`\`\`text\n${readingReport(PHOTO, reading).trimEnd()}\n\`\`\``)
  .replace(/\| quantity [\s\S]*?\n(?!\|)/, () => `${table}\n`)
writeFileSync('README.md', readme)
