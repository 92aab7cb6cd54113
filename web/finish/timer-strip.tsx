import { finishAddress } from '../route.js'
import { finishTexts } from '../texts/finish.js'
import './timer-strip.css'
import { useTimers } from './timer-store.js'
import { clock, isOver, leftS, waits } from './timers.js'

const words = finishTexts.timers

/** Timers under way in a line, on the pages that are about something else. */
export function TimerStrip() {
  const { timers, nowMs } = useTimers()
  if (timers.length === 0) return null
  return (
    <a class="timer-strip" href={finishAddress()}>
      {timers.map((timer) => (
        <span key={timer.id} class={isOver(timer) || waits(timer) ? 'calls' : ''}>
          {timer.name} {isOver(timer) ? words.over : waits(timer) ? words.wait : clock(leftS(timer, nowMs))}
        </span>
      ))}
    </a>
  )
}
