import { useState } from 'preact/hooks'
import type { StepsReply, TravellerBody } from '../../server/api/finish.js'
import { travellerPdf } from '../api-client.js'
import { Choice } from '../plan/tool-parts.js'
import { FailureNote, toFailure, type Failure } from '../views/failure-note.js'
import { NumberField } from '../views/number-field.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { keepRoute, recallRoute } from './route-draft.js'
import { beginTimer } from './timer-store.js'
import { useSteps } from './use-steps.js'

const words = finishTexts.route
type Step = StepsReply['steps'][number]

const usualMinutes = ({ waits }: Step) => (waits.length > 0 ? waits.reduce((sum, { minutes }) => sum + minutes, 0) : '')

/** The steps of one part: checklists, timers, and the page to print. */
export function PartRoute() {
  const { steps, failure: missing } = useSteps()
  const [draft, setDraft] = useState(recallRoute)
  const [paper, setPaper] = useState<keyof typeof words.papers>('a4')
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()
  const change = (part: Partial<typeof draft>) => {
    const next = { ...draft, ...part }
    setDraft(next)
    keepRoute(next)
  }
  const chosen = steps.filter(({ name }) => !draft.left.includes(name))
  const minutesOf = (step: Step) => draft.minutes[step.name] ?? String(usualMinutes(step))

  const print = async () => {
    setBusy(true)
    setFailure(undefined)
    const body: TravellerBody = {
      part: draft.part,
      ...(draft.resin && { resin: draft.resin }),
      paper,
      steps: chosen.map((step) => ({
        name: step.name,
        ...(draft.minutes[step.name] && { minutes: Number(draft.minutes[step.name]) }),
        notes: (draft.notes[step.name] ?? '').split('\n').filter((note) => note.trim() !== ''),
      })),
    }
    try {
      const link = document.createElement('a')
      link.href = URL.createObjectURL(await travellerPdf(body))
      link.download = 'traveller.pdf'
      link.click()
      setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
    } catch (error) {
      setFailure(toFailure(error, finishTexts.failed))
    }
    setBusy(false)
  }

  return (
    <>
      <p class="lead">{words.lead}</p>
      {missing && <FailureNote failure={missing} />}
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault()
          void print()
        }}
      >
        <div class="panel">
          <div class="fields">
            {(['part', 'resin'] as const).map((name) => (
              <div class="field" key={name}>
                <label for={`route-${name}`}>{words[name]}</label>
                <input
                  id={`route-${name}`}
                  type="text"
                  value={draft[name]}
                  maxLength={60}
                  required={name === 'part'}
                  onInput={(event) => change({ [name]: event.currentTarget.value })}
                />
              </div>
            ))}
          </div>
          <Choice legend={words.paper} names={words.papers} chosen={paper} choose={setPaper} />
          <p>{words.total(String(chosen.reduce((sum, step) => sum + Number(minutesOf(step)), 0)))}</p>
          {failure && <FailureNote failure={failure} />}
          <button class="main" disabled={busy || chosen.length === 0}>
            {busy ? words.making : words.print}
          </button>
        </div>
        {steps.map((step) => (
          <StepPanel
            key={step.name}
            step={step}
            included={!draft.left.includes(step.name)}
            include={(yes) =>
              change({ left: yes ? draft.left.filter((name) => name !== step.name) : [...draft.left, step.name] })
            }
            minutes={minutesOf(step)}
            setMinutes={(minutes) => change({ minutes: { ...draft.minutes, [step.name]: minutes } })}
            notes={draft.notes[step.name] ?? ''}
            setNotes={(notes) => change({ notes: { ...draft.notes, [step.name]: notes } })}
          />
        ))}
      </form>
    </>
  )
}

interface PanelProps {
  readonly step: Step
  readonly included: boolean
  readonly include: (yes: boolean) => void
  readonly minutes: string
  readonly setMinutes: (minutes: string) => void
  readonly notes: string
  readonly setNotes: (notes: string) => void
}

function StepPanel({ step, included, include, minutes, setMinutes, notes, setNotes }: PanelProps) {
  return (
    <section class="panel" aria-labelledby={`step-${step.name}`}>
      <h2 id={`step-${step.name}`}>{step.title}</h2>
      <label class="choice">
        <input type="checkbox" checked={included} onChange={(event) => include(event.currentTarget.checked)} />
        {words.include(step.title)}
      </label>
      {included && (
        <>
          <p>{step.why}</p>
          <ul class="checks">
            {step.checks.map((check) => (
              <li key={check}>
                <label class="choice">
                  <input type="checkbox" />
                  {check}
                </label>
              </li>
            ))}
          </ul>
          <div class="timer-buttons">
            {step.waits.map(({ what, minutes: wait }) => (
              <button
                key={what}
                type="button"
                onClick={() => beginTimer(what, [{ what, s: wait * 60, cue: words.cue }])}
              >
                {words.timer(what, wait)}
              </button>
            ))}
          </div>
          <Cautions cautions={step.cautions} inside />
          <div class="fields">
            <NumberField label={words.minutes} value={minutes} onChange={setMinutes} min={0} max={100_000} />
          </div>
          <div class="field">
            <label for={`notes-${step.name}`}>{words.notes}</label>
            <textarea
              id={`notes-${step.name}`}
              rows={2}
              value={notes}
              onInput={(event) => setNotes(event.currentTarget.value)}
            />
          </div>
        </>
      )}
    </section>
  )
}
