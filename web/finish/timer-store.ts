import { useEffect, useState } from 'preact/hooks'
import { keepTimers, keptTimers, onOtherPage } from './kept-timers.js'
import { notify } from './notices.js'
import { allowSound, say } from './say.js'
import { keepScreenOn, letScreenGo } from './screen-on.js'
import { advance, goOn, isOver, startTimer, type Timer, type TimerStage } from './timers.js'
import { askForVoice, hasVoice } from './voice.js'

const TICK_MS = 250

let timers = keptTimers()
let kept = true
const watchers = new Set<() => void>()
let ticking: ReturnType<typeof setInterval> | undefined
onOtherPage(takeOver)
// A page that was hidden or asleep ticks at once when it is back, and its screen is held on anew.
document.addEventListener('visibilitychange', back)
window.addEventListener('pageshow', back)
run()

/** Another page of this browser changed the timers. */
function takeOver(): void {
  tick()
  run()
}

function back(): void {
  if (document.visibilityState !== 'visible' || ticking === undefined) return
  tick()
  void keepScreenOn().then(draw)
}

const draw = () => {
  for (const watcher of watchers) watcher()
}

function change(next: readonly Timer[]): void {
  timers = next
  kept = keepTimers(next)
  run()
  draw()
}

/** Ticks while any timer is under way, on whatever page; the screen is asked to stay on. */
function run(): void {
  const busy = timers.some((timer) => !isOver(timer))
  if (busy && ticking === undefined) {
    ticking = setInterval(tick, TICK_MS)
    askForVoice()
    void keepScreenOn().then(draw)
  }
  if (!busy && ticking !== undefined) {
    clearInterval(ticking)
    ticking = undefined
    letScreenGo()
  }
}

function tick(): void {
  const [known, nowMs] = [timers, Date.now()]
  if (kept) timers = keptTimers()
  const moved = timers.map((timer) => advance(timer, nowMs))
  if (moved.some(({ cues }) => cues.length > 0)) change(moved.map(({ timer }) => timer))
  else draw()
  if (hasVoice()) sayWhatEnded(known, nowMs)
}

/** By what this page knew, for another page may have noticed the end first. */
function sayWhatEnded(known: readonly Timer[], nowMs: number): void {
  for (const { timer, cues } of known.map((one) => advance(one, nowMs))) {
    // After a long sleep only the last cue of each still means anything; the others stand on the page.
    const last = cues.at(-1)
    if (!last) continue
    say(`${timer.name}: ${last.cue}`)
    void notify(timer.name, last.cue)
  }
}

/** To be called from a tap, which allows the sound. */
export function beginTimer(name: string, stages: readonly TimerStage[]): void {
  allowSound()
  change([...timers, startTimer(`${Date.now()}-${timers.length}`, name, stages, Date.now())])
  // Timers stand on top of the page, the button that starts one may stand far down.
  window.scrollTo(0, 0)
}

export const continueTimer = (id: string): void => {
  allowSound()
  change(timers.map((timer) => (timer.id === id ? goOn(timer, Date.now()) : timer)))
}

export const removeTimer = (id: string): void => change(timers.filter((timer) => timer.id !== id))

/** All timers, drawn anew at each tick. */
export function useTimers(): { readonly timers: readonly Timer[]; readonly nowMs: number } {
  const [, redraw] = useState(0)
  useEffect(() => {
    const watcher = () => redraw((count) => count + 1)
    watchers.add(watcher)
    return () => void watchers.delete(watcher)
  }, [])
  return { timers, nowMs: Date.now() }
}
