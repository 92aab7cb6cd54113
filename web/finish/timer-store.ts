import { useEffect, useState } from 'preact/hooks'
import { say } from './say.js'
import { advance, goOn, isOver, startTimer, type Timer, type TimerStage } from './timers.js'

const PLACE = 'finish-timers'
const TICK_MS = 250

let timers = load()
const watchers = new Set<() => void>()
let ticking: ReturnType<typeof setInterval> | undefined
let awake: { release(): Promise<void> } | undefined
run()

function load(): readonly Timer[] {
  try {
    return JSON.parse(localStorage.getItem(PLACE) ?? '[]') as Timer[]
  } catch {
    return []
  }
}

function change(next: readonly Timer[]): void {
  timers = next
  try {
    localStorage.setItem(PLACE, JSON.stringify(next))
  } catch {
    // Storage is full or forbidden: the timers then live as long as the page.
  }
  run()
  for (const watcher of watchers) watcher()
}

/** Ticks while any timer is under way, on whatever page; the screen is asked to stay on. */
function run(): void {
  const busy = timers.some((timer) => !isOver(timer))
  if (busy && ticking === undefined) {
    ticking = setInterval(tick, TICK_MS)
    void stayAwake()
  }
  if (!busy && ticking !== undefined) {
    clearInterval(ticking)
    ticking = undefined
    void awake?.release()
    awake = undefined
  }
}

function tick(): void {
  const moved = timers.map((timer) => ({ before: timer, ...advance(timer, Date.now()) }))
  if (moved.some(({ cues }) => cues.length > 0)) change(moved.map(({ timer }) => timer))
  else for (const watcher of watchers) watcher()
  // After a long sleep only the last cue of each still means anything.
  for (const { timer, cues } of moved) if (cues.length > 0) say(`${timer.name}: ${cues.at(-1)}`)
}

async function stayAwake(): Promise<void> {
  try {
    awake = await navigator.wakeLock.request('screen')
  } catch {
    // Not over plain http, not on every phone: the wall clock makes up for it.
  }
}

export function beginTimer(name: string, stages: readonly TimerStage[]): void {
  change([...timers, startTimer(`${Date.now()}-${timers.length}`, name, stages, Date.now())])
  // Timers stand on top of the page, the button that starts one may stand far down.
  window.scrollTo(0, 0)
}

export const continueTimer = (id: string): void =>
  change(timers.map((timer) => (timer.id === id ? goOn(timer, Date.now()) : timer)))

export const removeTimer = (id: string): void => change(timers.filter((timer) => timer.id !== id))

/** All timers, drawn anew at each tick. */
export function useTimers(): { readonly timers: readonly Timer[]; readonly nowMs: number } {
  const [, draw] = useState(0)
  useEffect(() => {
    const watcher = () => draw((count) => count + 1)
    watchers.add(watcher)
    return () => void watchers.delete(watcher)
  }, [])
  return { timers, nowMs: Date.now() }
}
