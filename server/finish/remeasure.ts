const DAY_MS = 86_400_000
/**
 * A day, a month, half a year after the first photograph: most of the change of print resins comes after the first month.
 *
 * @see Kim et al., Materials 14 (2021) 650: five print resins, six months in the dark
 */
const AGES_DAYS = [1, 30, 182] as const
/** So much earlier a photograph counts for its day too. */
const EARLY = 0.1

/**
 * The day on which coupons are due to be photographed again; nothing while none is, or when none is left.
 *
 * @param photographed when, ISO 8601
 * @param nowMs ms since 1970
 */
export function dueAgain(
  photographed: readonly string[],
  nowMs: number,
): { readonly dueOn: string; readonly afterDays: number } | undefined {
  const times = photographed.map((date) => Date.parse(date))
  const [first, last] = [Math.min(...times), Math.max(...times)]
  const passed = AGES_DAYS.findLast((days) => first + days * DAY_MS <= nowMs)
  if (passed === undefined || last >= first + (1 - EARLY) * passed * DAY_MS) return undefined
  return { dueOn: new Date(first + passed * DAY_MS).toISOString().slice(0, 10), afterDays: passed }
}
