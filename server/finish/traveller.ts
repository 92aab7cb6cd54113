import type { TravellerBody } from '../api/finish.js'
import { FINISH_STEPS } from './steps.js'

type Chosen = TravellerBody['steps'][number]

/** Minutes of a step: as given, else its usual waits; undefined where neither is known. */
export function minutesOf({ name, minutes }: Chosen): number | undefined {
  const { waits } = FINISH_STEPS.find((step) => step.name === name)!
  if (minutes !== undefined) return minutes
  return waits.length > 0 ? waits.reduce((sum, wait) => sum + wait.minutes, 0) : undefined
}

/** Of all steps that have a time. */
export const totalMinutes = (steps: readonly Chosen[]): number =>
  steps.reduce((sum, step) => sum + (minutesOf(step) ?? 0), 0)

/** `45 min`, `3 h 20 min`. */
export function inMinutes(minutes: number): string {
  const whole = Math.round(minutes)
  if (whole < 60) return `${whole} min`
  return whole % 60 === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${whole % 60} min`
}
