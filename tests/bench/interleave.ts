import { max, median, min } from 'simple-statistics'

/** What one run of a job took: by the clock, and of all processors together, which a busy machine disturbs less. */
export interface Took {
  readonly wallMs: number
  readonly cpuMs: number
}

async function time(job: () => Promise<unknown>): Promise<Took> {
  const [from, used] = [performance.now(), process.cpuUsage()]
  const own = await job()
  if (isTook(own)) return own
  const { user, system } = process.cpuUsage(used)
  return { wallMs: performance.now() - from, cpuMs: (user + system) / 1000 }
}

/** A job in another process says itself what it took. */
const isTook = (value: unknown): value is Took =>
  typeof value === 'object' && value !== null && 'wallMs' in value && 'cpuMs' in value

/**
 * Times two jobs in turn, A B A B ..., so that whatever else the machine does falls on both.
 *
 * @returns shape (rounds, 2), after `warmUps` rounds of each that are not counted
 */
export async function interleave(
  jobs: readonly [() => Promise<unknown>, () => Promise<unknown>],
  { rounds, warmUps }: { readonly rounds: number; readonly warmUps: number },
): Promise<(readonly [Took, Took])[]> {
  const pairs: (readonly [Took, Took])[] = []
  for (let i = 0; i < warmUps + rounds; i++) {
    const pair = [await time(jobs[0]), await time(jobs[1])] as const
    if (i >= warmUps) pairs.push(pair)
  }
  return pairs
}

/** Median, with least and most in brackets. */
export function spread(values: readonly number[], digits: number): string {
  const [middle, least, most] = [median, min, max].map((pick) => pick([...values]).toFixed(digits))
  return `${middle} (${least}-${most})`
}

/** How many times as long the second job takes: medians of the pairs, by the clock and by processor time. */
export function timesAsLong(pairs: readonly (readonly [Took, Took])[]): string {
  const [clock, cpu] = (['wallMs', 'cpuMs'] as const).map((which) =>
    median(pairs.map(([a, b]) => b[which] / a[which])).toFixed(1),
  )
  return `${clock} times by the clock, ${cpu} times by processor time`
}

/** The table of a comparison: both jobs and the ratio of each pair. */
export function comparison(names: readonly [string, string], pairs: readonly (readonly [Took, Took])[]): string {
  const row = (name: string, of: (which: keyof Took) => string) =>
    `   ${name.padEnd(34)}${of('wallMs').padStart(22)}${of('cpuMs').padStart(22)}`
  return [
    `   ${''.padEnd(34)}${'clock, ms'.padStart(22)}${'processor, ms'.padStart(22)}`,
    ...([0, 1] as const).map((k) =>
      row(names[k], (which) =>
        spread(
          pairs.map((pair) => pair[k][which]),
          0,
        ),
      ),
    ),
    row('ratio of each pair', (which) =>
      spread(
        pairs.map(([a, b]) => a[which] / b[which]),
        2,
      ),
    ),
  ].join('\n')
}
