import type { Selectable } from 'kysely'
import { Value } from 'typebox/value'
import type { ErrorReply } from '../api/common.js'
import { ReadingOptions, type ReadingOutcome, type ReadingSummary } from '../api/readings.js'
import type { Tables } from './tables.js'

type Photo = Pick<Selectable<Tables['photos']>, 'name' | 'simulated' | 'extension'>
type SummaryRow = Omit<Selectable<Tables['readings']>, 'result'> & Photo

/** Options that mean the same as one text: defaults filled in, in the order of the schema, caliper readings by slot. */
export function optionsText(options: ReadingOptions): string {
  const filled = Value.Default(ReadingOptions, { ...options }) as ReadingOptions
  const inOrder = {
    ...filled,
    ...(filled.caliperMm && {
      caliperMm: filled.caliperMm
        .map(({ slot, widthMm }) => ({ slot, widthMm }))
        .sort((a, b) => a.slot - b.slot || a.widthMm - b.widthMm),
    }),
  }
  const names = Object.keys(ReadingOptions.properties) as (keyof ReadingOptions)[]
  return JSON.stringify(Object.fromEntries(names.map((name) => [name, inOrder[name]])))
}

export const optionsFrom = (text: string) => JSON.parse(text) as ReadingOptions

export const SUMMARY_COLUMNS = [
  ...(['number', 'reading_id', 'readings.photo_id', 'options', 'state', 'attempts', 'readings.created_at'] as const),
  ...(['finished_at', 'outcome', 'failure', 'result_schema', 'ladder_id', 'name', 'simulated', 'extension'] as const),
]

/** What all that tells of a reading has in common. */
export const commonOf = (row: SummaryRow) => ({
  readingId: row.reading_id,
  photoId: row.photo_id,
  photoName: row.name,
  simulated: row.simulated === 1,
  createdAt: row.created_at,
  ...(row.finished_at !== null && { finishedAt: row.finished_at }),
  options: optionsFrom(row.options),
  state: row.state,
  ...(row.failure !== null && { failure: JSON.parse(row.failure) as ErrorReply }),
})

export const summaryOf = (row: SummaryRow): ReadingSummary => ({
  ...commonOf(row),
  ...(row.outcome !== null && { outcome: JSON.parse(row.outcome) as ReadingOutcome }),
})
