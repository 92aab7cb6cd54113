import type { TravellerBody } from '../api/finish.js'
import type { ResinSheet } from './sheet-lines.js'
import { finishSteps, type FinishStep } from './steps.js'
import type { FinishWords } from './words/english.js'

/** A step as it is printed: what was chosen of it, and the step itself. */
export interface ChosenStep extends FinishStep {
  /** As given, else its waits together; undefined where neither is known. */
  readonly minutesInAll: number | undefined
  /** Whether somebody gave the time, so that the waits do not make it up. */
  readonly timed: boolean
  readonly notes: readonly string[]
}

/** The steps of a traveller in the order chosen. */
export function chosenSteps(chosen: TravellerBody['steps'], words: FinishWords, sheet?: ResinSheet): ChosenStep[] {
  const steps = new Map(finishSteps(words, sheet).map((step) => [step.name, step]))
  return chosen.map(({ name, minutes, notes = [] }) => {
    const step = steps.get(name)!
    const waited = step.waits.length > 0 ? step.waits.reduce((sum, wait) => sum + wait.minutes, 0) : undefined
    return { ...step, minutesInAll: minutes ?? waited, timed: minutes !== undefined, notes }
  })
}

/** Of all steps that have a time. */
export const totalMinutes = (steps: readonly ChosenStep[]): number =>
  steps.reduce((sum, { minutesInAll }) => sum + (minutesInAll ?? 0), 0)

/** `45 min`, `3 h 20 min`, `2.5 min` below ten; `number` writes it as the language does. */
export function inMinutes(minutes: number, number: FinishWords['number'] = String): string {
  if (minutes < 10) return `${number(Number(minutes.toFixed(1)))} min`
  const whole = Math.round(minutes)
  if (whole < 60) return `${whole} min`
  return whole % 60 === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${whole % 60} min`
}
