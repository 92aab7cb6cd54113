import type { StepsReply } from '../../server/api/finish.js'
import { formatShort } from '../format.js'
import { finishTexts } from '../texts/finish.js'
import { NumberField } from '../views/number-field.js'
import { Cautions } from './cautions.js'
import { notesOf, type RouteDraft } from './route-draft.js'
import { beginTimer } from './timer-store.js'

const words = finishTexts.route
type Step = StepsReply['steps'][number]

/** All lines of a step that can be ticked. */
export const linesOf = ({ name, checks }: Step, draft: RouteDraft) => [
  ...checks.map(({ id, text, fromSheet }) => ({ line: `${name}/${id}`, text, fromSheet })),
  ...notesOf(draft, name).map((note) => ({ line: `${name}/note ${note}`, text: note, fromSheet: false })),
]

interface Props {
  readonly step: Step
  readonly draft: RouteDraft
  readonly change: (part: Partial<RouteDraft>) => void
  /** As typed, else its usual waits. */
  readonly minutes: string
  /** Cautions that stand in full at a step before. */
  readonly told: readonly string[]
}

/** A step with its lines to tick, its timers, its cautions, and what is written on the page to print. */
export function StepPanel({ step, draft, change, minutes, told }: Props) {
  const { name, title, why, waits, cautions } = step
  const included = !draft.left.includes(name)
  const include = (yes: boolean) =>
    change({ left: yes ? draft.left.filter((one) => one !== name) : [...draft.left, name] })
  const tick = (line: string, yes: boolean) =>
    change({ ticked: yes ? [...draft.ticked, line] : draft.ticked.filter((one) => one !== line) })
  return (
    <section class="panel" aria-labelledby={`step-${name}`}>
      <h2 id={`step-${name}`}>{title}</h2>
      <label class="choice">
        <input type="checkbox" checked={included} onChange={(event) => include(event.currentTarget.checked)} />
        {words.include(title)}
      </label>
      {included && (
        <>
          <p>{why}</p>
          <Cautions cautions={cautions} told={told} inside />
          <ul class="checks">
            {linesOf(step, draft).map(({ line, text, fromSheet }) => (
              <li key={line}>
                <label class="choice">
                  <input
                    type="checkbox"
                    checked={draft.ticked.includes(line)}
                    onChange={(event) => tick(line, event.currentTarget.checked)}
                  />
                  <span>
                    {text}
                    {fromSheet && <span class="hint"> ({finishTexts.sheet.from})</span>}
                  </span>
                </label>
              </li>
            ))}
          </ul>
          {waits.length > 0 && (
            <ul class="waits">
              {waits.map(({ id, what, minutes: wait, fromSheet }) => (
                <li key={id}>
                  <button
                    type="button"
                    onClick={() => beginTimer(what, [{ what, s: Math.round(wait * 60), cue: words.cue }])}
                  >
                    {words.timer(what, formatShort(wait))}
                  </button>
                  <span class="hint">{fromSheet ? finishTexts.sheet.from : finishTexts.sheet.practice}</span>
                </li>
              ))}
            </ul>
          )}
          <div class="fields">
            <NumberField
              label={words.minutes}
              value={minutes}
              onChange={(typed) => change({ minutes: { ...draft.minutes, [name]: typed } })}
              min={0}
              max={100_000}
            />
          </div>
          <div class="field">
            <label for={`notes-${name}`}>{words.notes}</label>
            <textarea
              id={`notes-${name}`}
              rows={2}
              value={draft.notes[name] ?? ''}
              onInput={(event) => change({ notes: { ...draft.notes, [name]: event.currentTarget.value } })}
            />
          </div>
        </>
      )}
    </section>
  )
}
