import { median } from 'simple-statistics'
import { spread } from './interleave.js'

type Analysis = typeof import('../../analysis/index.js')

const RUNS = 9

/** Shares of the stages of reading a photograph, and of the parts of finding the card, by processor time. */
export async function stageTable(
  measureLadder: Analysis['measureLadder'],
  built: URL,
  bytes: Uint8Array,
): Promise<string> {
  const runs: Map<string, number>[] = []
  for (let i = 0; i < RUNS; i++) {
    const clock = new Stopwatch()
    await measureLadder(bytes, {}, ({ stage }) => clock.begin(stage))
    const stages = clock.end()
    for (const [part, ms] of await timeFindCard(built, bytes)) stages.set(`find-card: ${part}`, ms)
    runs.push(stages)
  }
  const names = [...(runs[0]?.keys() ?? [])]
  const table = names.map((name) => ({ name, ms: runs.map((run) => run.get(name) ?? 0) }))
  const total = table.filter(({ name }) => !name.includes(':')).reduce((sum, { ms }) => sum + median(ms), 0)
  return table
    .map(({ name, ms }) => {
      const share = ((100 * median(ms)) / total).toFixed(0).padStart(4)
      return `   ${name.padEnd(56)}${spread(ms, 0).padStart(22)}${share} %`
    })
    .join('\n')
}

/** Adds up processor time, all threads, by what was last begun. */
class Stopwatch {
  readonly #spent = new Map<string, number>()
  #running: string | undefined
  #since = process.cpuUsage()

  begin(name: string): void {
    const { user, system } = process.cpuUsage(this.#since)
    if (this.#running !== undefined)
      this.#spent.set(this.#running, (this.#spent.get(this.#running) ?? 0) + (user + system) / 1000)
    this.#running = name
    this.#since = process.cpuUsage()
  }

  end(): Map<string, number> {
    this.begin('')
    return this.#spent
  }
}

/** The second stage once more, step by step. */
async function timeFindCard(built: URL, bytes: Uint8Array): Promise<Map<string, number>> {
  const load = async <T>(path: string) => (await import(new URL(path, built).href)) as T
  const { decodePhoto } = await load<typeof import('../../analysis/image/decode.js')>('image/decode.js')
  const { shrinkGreen } = await load<typeof import('../../analysis/image/shrink.js')>('image/shrink.js')
  const { findCode } = await load<typeof import('../../analysis/card/find-code.js')>('card/find-code.js')
  const { ladderLayout } = await load<Analysis>('index.js')
  const { findDiscs } = await load<typeof import('../../analysis/card/find-discs.js')>('card/find-discs.js')
  const light = await load<typeof import('../../analysis/image/linear-light.js')>('image/linear-light.js')
  const { locateDiscCentre } = await load<typeof import('../../analysis/card/disc-centre.js')>('card/disc-centre.js')
  const { solvePose } = await load<typeof import('../../analysis/card/solve-pose.js')>('card/solve-pose.js')

  const decoded = await decodePhoto(bytes)
  if (!decoded.ok) throw new Error(decoded.refusal.code)
  const photo = decoded.value
  const clock = new Stopwatch()
  clock.begin('shrink')
  const shrunk = shrinkGreen(photo, 4)
  clock.begin('code')
  const code = await findCode(photo, shrunk)
  if (!code.ok) throw new Error(code.refusal.code)
  clock.begin('layout')
  const { card } = ladderLayout(code.value.design)
  clock.begin('discs')
  const rough = findDiscs(shrunk, code.value, card)
  if (!rough.ok) throw new Error(rough.refusal.code)
  clock.begin('disc centres')
  const asEncoded = { photo, table: light.lumaTable(light.SRGB_TONE) }
  const centres = rough.value.discs.flatMap((disc) => locateDiscCentre(asEncoded, disc) ?? [])
  clock.begin('pose')
  solvePose(centres, card, rough.value.homography, photo)
  return clock.end()
}
