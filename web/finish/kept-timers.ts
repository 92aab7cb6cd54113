import type { Timer } from './timers.js'

const PLACE = 'finish-timers'

/** Timers as this browser keeps them, on every page and over a reload. */
export function keptTimers(): readonly Timer[] {
  try {
    return JSON.parse(localStorage.getItem(PLACE) ?? '[]') as Timer[]
  } catch {
    return []
  }
}

/** @returns false when the browser keeps nothing: the timers then live as long as the page */
export function keepTimers(timers: readonly Timer[]): boolean {
  try {
    localStorage.setItem(PLACE, JSON.stringify(timers))
    return true
  } catch {
    return false
  }
}

/** Tells of changes that another page of the same browser made. */
export const onOtherPage = (changed: () => void): void =>
  window.addEventListener('storage', ({ key }) => key === PLACE && changed())
