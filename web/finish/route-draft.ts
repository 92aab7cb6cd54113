import type { TravellerBody } from '../../server/api/finish.js'

export type StepName = TravellerBody['steps'][number]['name']

/** What planners put on the route of the part and what is ticked of it, kept in the browser until it is made. */
export interface RouteDraft {
  readonly part: string
  /** Bottle or batch, as it is to be printed. */
  readonly resin: string
  /** Record of the resin whose data sheet counts; empty for none. */
  readonly resinId: string
  readonly left: readonly StepName[]
  /** Lines that are done, `step/line`. */
  readonly ticked: readonly string[]
  readonly minutes: Partial<Record<StepName, string>>
  readonly notes: Partial<Record<StepName, string>>
}

const PLACE = 'finish-route'
const EMPTY: RouteDraft = { part: '', resin: '', resinId: '', left: [], ticked: [], minutes: {}, notes: {} }

export function recallRoute(): RouteDraft {
  try {
    return { ...EMPTY, ...(JSON.parse(localStorage.getItem(PLACE) ?? '{}') as Partial<RouteDraft>) }
  } catch {
    return EMPTY
  }
}

export function keepRoute(draft: RouteDraft): void {
  try {
    localStorage.setItem(PLACE, JSON.stringify(draft))
  } catch {
    // Storage is full or forbidden: the page starts empty next time.
  }
}

/** What was written down of a step, a note a line. */
export const notesOf = ({ notes }: RouteDraft, step: StepName): string[] =>
  (notes[step] ?? '').split('\n').filter((note) => note.trim() !== '')

/** The same resin, nothing else. */
export const nextPart = ({ resin, resinId, left }: RouteDraft): RouteDraft => ({ ...EMPTY, resin, resinId, left })

/** Replaces what a planner said of a step before. */
export function putOnRoute(step: StepName, notes: readonly string[], minutes?: number): void {
  const draft = recallRoute()
  keepRoute({
    ...draft,
    left: draft.left.filter((name) => name !== step),
    notes: { ...draft.notes, [step]: notes.join('\n') },
    minutes: { ...draft.minutes, ...(minutes !== undefined && { [step]: String(Math.round(minutes)) }) },
  })
}
