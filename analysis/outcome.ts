/** Why the data yield no value. */
export interface Refusal {
  /** Stable name in kebab-case, for programs: `too-few-doses`. */
  readonly code: string
  /** What to do next, as a sentence for the person at the bench. */
  readonly advice: string
  /** What was found, with its numbers, for whoever looks closer. */
  readonly detail?: string
}

/**
 * A value, or the named reason there is none.
 *
 * For data that cannot be measured. An argument the caller got wrong is an exception instead.
 */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly refusal: Refusal }

/**
 * @returns an outcome without a value
 * @example refuse('too-few-doses', 'Print at least three different exposures.', '2 different doses, three needed')
 */
export function refuse(
  code: string,
  advice: string,
  detail?: string,
): { readonly ok: false; readonly refusal: Refusal } {
  return { ok: false, refusal: detail === undefined ? { code, advice } : { code, advice, detail } }
}
