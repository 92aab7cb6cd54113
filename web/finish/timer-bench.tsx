import { useEffect, useState } from 'preact/hooks'
import { finishTexts } from '../texts/finish.js'
import { NumberField } from '../views/number-field.js'
import { askForNotices, noticeState } from './notices.js'
import { allowSound, mayBeHeard, say } from './say.js'
import { screenStaysOn } from './screen-on.js'
import { TimerFace } from './timer-face.js'
import { beginTimer, useTimers } from './timer-store.js'
import { isOver } from './timers.js'

const words = finishTexts.timers

/** All timers under way, and one to start by hand. */
export function TimerBench() {
  const { timers, nowMs } = useTimers()
  const [name, setName] = useState('')
  const [minutes, setMinutes] = useState('10')
  const running = timers.some((timer) => !isOver(timer))
  const heard = useHeard()
  return (
    <section class="panel" aria-labelledby="timers">
      <h2 id="timers">{words.title}</h2>
      {running && !heard && (
        <p class="note warning">
          {words.silent}{' '}
          <button type="button" onClick={allowSound}>
            {words.allowSound}
          </button>
        </p>
      )}
      <ul class="timers">
        {timers.map((timer) => (
          <TimerFace key={timer.id} timer={timer} nowMs={nowMs} />
        ))}
      </ul>
      {running && <p class="hint">{screenStaysOn() ? words.screenOn : words.screenOff}</p>}
      <p class="hint">{words.hint}</p>
      <div class="buttons">
        <button type="button" onClick={() => say(words.testing)}>
          {words.test}
        </button>
        <Notices />
      </div>
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
    </section>
  )
}

/** Whether sound is allowed: asked anew when a tap is over, so that the button that was tapped stays until then. */
function useHeard(): boolean {
  const [heard, setHeard] = useState(mayBeHeard)
  useEffect(() => {
    const ask = () => setHeard(mayBeHeard())
    addEventListener('click', ask)
    addEventListener('keyup', ask)
    return () => {
      removeEventListener('click', ask)
      removeEventListener('keyup', ask)
    }
  }, [])
  return heard
}

/** Asks for notifications, on a tap only, and says what they can do. */
function Notices() {
  const [state, setState] = useState(noticeState)
  if (state === 'none') return null
  return (
    <>
      {state === 'default' && (
        <button type="button" onClick={() => void askForNotices().then(setState)}>
          {words.notices.ask}
        </button>
      )}
      <p class="hint">{words.notices[state]}</p>
    </>
  )
}
