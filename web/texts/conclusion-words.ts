import type { ReadLadder } from '../../server/api/readings.js'

export type Suggestion = NonNullable<ReadLadder['suggestion']>
export type Next = NonNullable<Suggestion['nextLadder']>
type Limit = NonNullable<Suggestion['limits']>[number]

/** What a suggestion says, from its values. English is what the service says itself. */
export interface ConclusionWords {
  readonly rules: Readonly<Record<NonNullable<Suggestion['chosenBy']>, string>>
  readonly limits: Readonly<Record<Limit['by'], string>>
  readonly next: Readonly<Record<NonNullable<Next['reason']>, string>>
  readonly confidence: (
    sought: NonNullable<Suggestion['chosenBy']>,
    intervalS: Suggestion['intervalS'],
    basis: NonNullable<Suggestion['confidenceBasis']>,
  ) => string
}
