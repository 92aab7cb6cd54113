import { useState } from 'preact/hooks'
import type { StepsReply, TravellerBody } from '../../server/api/finish.js'
import { travellerPdf } from '../api-client.js'
import { language } from '../language.js'
import { Choice } from '../plan/tool-parts.js'
import { saveFile } from '../save-file.js'
import { finishTexts } from '../texts/finish.js'
import { FailureNote, toFailure, type Failure } from '../views/failure-note.js'
import { ResinChoice } from './resin-choice.js'
import { keepRoute, nextPart, notesOf, recallRoute, type RouteDraft } from './route-draft.js'
import { linesOf, StepPanel } from './step-panel.js'
import { useResin } from './use-resin.js'
import { useSteps } from './use-steps.js'

const words = finishTexts.route
type Step = StepsReply['steps'][number]

const usualMinutes = ({ waits }: Step) => (waits.length > 0 ? waits.reduce((sum, { minutes }) => sum + minutes, 0) : '')
const inHours = (minutes: number) => words.hours(Math.floor(Math.round(minutes) / 60), Math.round(minutes) % 60)
const minutesOf = (step: Step, draft: RouteDraft) => draft.minutes[step.name] ?? String(usualMinutes(step))

function bodyOf(draft: RouteDraft, resinId: string, chosen: readonly Step[], paper: 'a4' | 'letter'): TravellerBody {
  return {
    part: draft.part,
    ...(draft.resin && { resin: draft.resin }),
    ...(resinId && { resinId }),
    language,
    paper,
    steps: chosen.map(({ name }) => ({
      name,
      ...(draft.minutes[name] && { minutes: Number(draft.minutes[name]) }),
      notes: notesOf(draft, name),
    })),
  }
}

/** The steps of one part: checklists, timers, and the page to print. */
export function PartRoute() {
  const resin = useResin()
  const { steps, failure: missing } = useSteps(resin.resinId)
  const [draft, setDraft] = useState(recallRoute)
  const [paper, setPaper] = useState<keyof typeof words.papers>('a4')
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()
  const put = (next: RouteDraft) => {
    // The resin is chosen by itself and kept by itself.
    const whole = { ...next, resinId: recallRoute().resinId }
    setDraft(whole)
    keepRoute(whole)
  }
  const change = (part: Partial<RouteDraft>) => put({ ...draft, ...part })
  const chosen = steps.filter(({ name }) => !draft.left.includes(name))
  const toldBefore = (step: Step) =>
    chosen.slice(0, chosen.indexOf(step)).flatMap(({ cautions }) => cautions.map(({ id }) => id))
  const lines = chosen.flatMap((step) => linesOf(step, draft))

  const print = async () => {
    setBusy(true)
    setFailure(undefined)
    try {
      saveFile(await travellerPdf(bodyOf(draft, resin.resinId, chosen, paper)), 'traveller.pdf')
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
          <ResinChoice resin={resin} />
          <Choice legend={words.paper} names={words.papers} chosen={paper} choose={setPaper} />
          <p>
            {words.total(inHours(chosen.reduce((sum, step) => sum + Number(minutesOf(step, draft)), 0)))}{' '}
            <strong>{words.done(lines.filter(({ line }) => draft.ticked.includes(line)).length, lines.length)}.</strong>
          </p>
          {failure && <FailureNote failure={failure} />}
          <div class="buttons">
            <button class="main" disabled={busy || chosen.length === 0}>
              {busy ? words.making : words.print}
            </button>
            <button type="button" onClick={() => put(nextPart(draft))}>
              {words.next}
            </button>
          </div>
        </div>
        {steps.map((step) => (
          <StepPanel
            key={step.name}
            step={step}
            draft={draft}
            change={change}
            minutes={minutesOf(step, draft)}
            told={toldBefore(step)}
          />
        ))}
      </form>
    </>
  )
}
