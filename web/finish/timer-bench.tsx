import { useState } from 'preact/hooks'
import { NumberField } from '../views/number-field.js'
import { finishTexts } from '../texts/finish.js'
import { say } from './say.js'
import { beginTimer, continueTimer, removeTimer, useTimers } from './timer-store.js'
import { clock, isOver, leftS, waits, type Timer } from './timers.js'

const words = finishTexts.timers

/** All timers under way, readable from across the bench, and one to start by hand. */
export function TimerBench() {
  const { timers, nowMs } = useTimers()
  const [name, setName] = useState('')
  const [minutes, setMinutes] = useState('10')
  return (
    <section class="panel" aria-labelledby="timers">
      <h2 id="timers">{words.title}</h2>
      <ul class="timers">
        {timers.map((timer) => (
          <TimerFace key={timer.id} timer={timer} nowMs={nowMs} />
        ))}
      </ul>
      <p class="hint">{words.hint}</p>
      <details>
        <summary>{words.own}</summary>
        <form
          onSubmit={(event) => {
            event.preventDefault()
            beginTimer(name, [{ what: name, s: Math.round(Number(minutes) * 60), cue: words.ended }])
          }}
        >
          <div class="fields">
            <div class="field">
              <label for="timer-name">{words.name}</label>
              <input
                id="timer-name"
                type="text"
                value={name}
                required
                onInput={(event) => setName(event.currentTarget.value)}
              />
            </div>
            <NumberField label={words.minutes} value={minutes} onChange={setMinutes} min={0.1} max={10_000} required />
          </div>
          <button>{words.start}</button>
        </form>
      </details>
      <button type="button" onClick={() => say(words.testing)}>
        {words.test}
      </button>
    </section>
  )
}

function TimerFace({ timer, nowMs }: { timer: Timer; nowMs: number }) {
  const { id, name, stages, at } = timer
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
        {over || waiting ? stages[at - 1]?.cue : stages[at]?.what}
        {!over && !waiting && next && <span class="hint"> · {words.next(next.what)}</span>}
      </p>
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
