import { spawnSync } from 'node:child_process'

/** What a whole process took, from its start to its end. */
export interface ProcessTook {
  readonly wallS: number
  readonly peakMb: number
}

// Linux counts a process's peak from before it became itself, as the copy of its parent: so keep this parent small.
const REPORT_PEAK =
  "import { writeSync } from 'node:fs'\n" +
  "process.on('exit', () => writeSync(2, '\\npeak kB ' + process.resourceUsage().maxRSS))"

/**
 * Runs `stepglass measure` on photographs as a process of its own.
 *
 * @throws {Error} when the command refuses a photograph or fails
 */
export function runMeasure(photos: readonly string[]): ProcessTook {
  const preload = `data:text/javascript,${encodeURIComponent(REPORT_PEAK)}`
  const from = performance.now()
  const { status, stderr } = spawnSync(
    process.execPath,
    ['--import', preload, 'server/bin/stepglass.mjs', 'measure', ...photos],
    { stdio: ['ignore', 'ignore', 'pipe'], encoding: 'utf8' },
  )
  const wallS = (performance.now() - from) / 1000
  const peakKb = Number(/peak kB (\d+)/.exec(stderr)?.[1])
  // 3: read, but nothing to suggest.
  if ((status !== 0 && status !== 3) || Number.isNaN(peakKb)) throw new Error(`measure ended with ${status}: ${stderr}`)
  return { wallS, peakMb: peakKb / 1024 }
}
