import { locale } from '../format.js'
import { finishTexts } from '../texts/finish.js'
import { continueTimer, removeTimer } from './timer-store.js'
import { clock, isOver, leftS, sinceS, waits, type Timer } from './timers.js'

const words = finishTexts.timers
const timeOfDay = (ms: number) =>
  new Date(ms).toLocaleTimeString(locale, { hour: '2-digit', minute: '2-digit', second: '2-digit' })

/** One timer, readable from across the bench. */
export function TimerFace({ timer, nowMs }: { timer: Timer; nowMs: number }) {
  const { id, name, stages, at, missed = [] } = timer
  const over = isOver(timer)
  const waiting = waits(timer)
  const next = stages[at + 1]
  return (
    <li class={over || waiting ? 'timer calls' : 'timer'}>
      <p>
        <strong>{name}</strong>
        {stages.length > 1 && !over && ` · ${words.of(at + 1, stages.length)}`}
      </p>
      <p class="timer-left" role="timer">
        {over ? words.over : waiting ? words.wait : clock(leftS(timer, nowMs))}
      </p>
      <p>
        {over || waiting ? (
          <>
            {stages[at - 1]?.cue}
            <span class="hint"> · {words.since(clock(sinceS(timer, nowMs)))}</span>
          </>
        ) : (
          <>
            {stages[at]?.what !== name && stages[at]?.what}
            {next && <span class="hint"> · {words.next(next.what)}</span>}
          </>
        )}
      </p>
      {missed.length > 0 && (
        <>
          <p class="missed">{words.missed}</p>
          <ul class="missed">
            {missed.map(({ cue, atMs }) => (
              <li key={atMs}>
                {timeOfDay(atMs)} {cue}
              </li>
            ))}
          </ul>
        </>
      )}
      <div class="timer-buttons">
        {waiting && (
          <button type="button" class="main" onClick={() => continueTimer(id)}>
            {words.goOn}
          </button>
        )}
        <button type="button" onClick={() => removeTimer(id)} aria-label={`${words.remove}: ${name}`}>
          {words.remove}
        </button>
      </div>
    </li>
  )
}
