// npx tsx tests/fuzz/fuzz.ts [cases] [seed] [name]: throws damaged files and requests at the service and tells what came of each.
import { apiCampaign } from './api.js'
import { runCampaign, type Campaign, type Report } from './campaign.js'
import { readCampaign, sheetCampaign, showCampaign } from './files.js'
import { textCampaign } from './texts.js'
import { uploadCampaign } from './uploads.js'

const [cases = 200_000, seed = 1] = process.argv.slice(2, 4).map(Number)
const only = process.argv[4] ?? ''

async function run<Case>(make: () => Promise<Campaign<Case>>, share: number): Promise<number> {
  const campaign = await make()
  if (!campaign.name.includes(only)) return campaign.close().then(() => 0)
  const report = await runCampaign(campaign, Math.round(cases * share), seed)
  tell(report)
  return report.findings.length
}

function tell({ name, cases, seconds, outcomes, findings }: Report): void {
  const mb = Math.round(process.memoryUsage.rss() / 1e6)
  console.log(`\n${name}: ${cases} cases in ${seconds.toFixed(0)} s, this process at ${mb} MB`)
  const sorted = Object.entries(outcomes).sort(([, a], [, b]) => b - a)
  console.log(`  ${sorted.map(([outcome, count]) => `${outcome} ${count}`).join(', ')}`)
  for (const { what, input } of findings) console.log(`  WRONG ${what}\n        ${input}`)
}

const wrong = [
  await run(textCampaign, 0.65),
  await run(apiCampaign, 0.2),
  await run(uploadCampaign, 0.02),
  await run(readCampaign, 0.08),
  await run(showCampaign, 0.02),
  await run(sheetCampaign, 0.03),
].reduce((sum, count) => sum + count)
console.log(`\n${cases} cases from seed ${seed}: ${wrong} findings`)
process.exitCode = wrong > 0 ? 1 : 0
