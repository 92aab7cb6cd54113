import type { TravellerBody } from '../../server/api/finish.js'

type StepName = TravellerBody['steps'][number]['name']

/** What planners put on the route of the part, kept in the browser until it is made. */
export interface RouteDraft {
  readonly part: string
  readonly resin: string
  readonly left: readonly StepName[]
  readonly minutes: Partial<Record<StepName, string>>
  readonly notes: Partial<Record<StepName, string>>
}

const PLACE = 'finish-route'
const EMPTY: RouteDraft = { part: '', resin: '', left: [], minutes: {}, notes: {} }

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
