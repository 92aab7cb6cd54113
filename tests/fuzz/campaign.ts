import fc from 'fast-check'

/** What one case showed that should not be. */
export interface Finding {
  readonly what: string
  /** The case, as far as it can be shown. */
  readonly input: string
}

/** Cases of one kind, tried against one part of the service. */
export interface Campaign<Case> {
  readonly name: string
  readonly cases: fc.Arbitrary<Case>
  /** @returns what came of each (a status, a refusal), and what is wrong */
  try(cases: readonly Case[]): Promise<{ readonly outcomes: readonly string[]; readonly findings: readonly Finding[] }>
  close(): Promise<void>
}

export interface Report {
  readonly name: string
  readonly cases: number
  readonly seconds: number
  readonly outcomes: Readonly<Record<string, number>>
  readonly findings: readonly Finding[]
}

const BATCH = 200
const MOST_FINDINGS = 20

/** Tries that many cases, the same ones for the same seed. */
export async function runCampaign<Case>(campaign: Campaign<Case>, cases: number, seed: number): Promise<Report> {
  const started = performance.now()
  const counts = new Map<string, number>()
  const all: Finding[] = []
  try {
    for (let done = 0; done < cases && all.length < MOST_FINDINGS; done += BATCH) {
      const batch = fc.sample(campaign.cases, { numRuns: Math.min(BATCH, cases - done), seed: seed + done })
      const { outcomes, findings } = await campaign.try(batch)
      for (const outcome of outcomes) counts.set(outcome, (counts.get(outcome) ?? 0) + 1)
      all.push(...findings)
    }
  } finally {
    await campaign.close()
  }
  const seconds = (performance.now() - started) / 1000
  const tried = [...counts.values()].reduce((sum, count) => sum + count, 0)
  return { name: campaign.name, cases: tried, seconds, outcomes: Object.fromEntries(counts), findings: all }
}
