import type { ComponentChildren } from 'preact'
import { useEffect, useId, useRef } from 'preact/hooks'
import { WarningIcon } from '../icons.js'
import { planTexts } from '../texts/plan.js'
import { FailureNote, type Failure } from '../views/failure-note.js'

interface FormProps {
  readonly onSubmit: () => void
  readonly busy: boolean
  readonly failure: Failure | undefined
  readonly children: ComponentChildren
}

/** The form of a tool with its button. */
export const ToolForm = ({ onSubmit, busy, failure, children }: FormProps) => (
  <form
    class="panel"
    onSubmit={(event) => {
      event.preventDefault()
      onSubmit()
    }}
  >
    {children}
    {failure && <FailureNote failure={failure} />}
    <button class="main" disabled={busy}>
      {busy ? planTexts.working : planTexts.work}
    </button>
  </form>
)

/** The answer of a tool; a new one is shown and announced. `of` changes with each answer. */
export function ToolResult({ title, of, children }: { title: string; of: unknown; children: ComponentChildren }) {
  const id = useId()
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus({ preventScroll: true })
    heading.current?.scrollIntoView({ block: 'start' })
  }, [of])
  return (
    <section class="panel tool-result" aria-labelledby={id}>
      <h2 id={id} ref={heading} tabIndex={-1}>
        {title}
      </h2>
      {children}
    </section>
  )
}

/** The caution at a step that can hurt. */
export function Caution({ kind }: { kind: 'print' | 'light' | 'cure' }) {
  const id = useId()
  const { title } = planTexts.caution
  return (
    <section class="note warning" aria-labelledby={id}>
      <h2 id={id}>
        <WarningIcon />
        {title}
      </h2>
      <ul>
        {planTexts.caution[kind].map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  )
}

interface ChoiceProps<Name extends string> {
  readonly legend: string
  readonly names: Readonly<Record<Name, string>>
  readonly chosen: Name
  readonly choose: (name: Name) => void
}

/** One of a few. */
export function Choice<Name extends string>({ legend, names, chosen, choose }: ChoiceProps<Name>) {
  const group = useId()
  return (
    <fieldset>
      <legend>{legend}</legend>
      <div class="choices">
        {(Object.keys(names) as Name[]).map((name) => (
          <label key={name} class="choice">
            <input type="radio" name={group} checked={chosen === name} onChange={() => choose(name)} />
            {names[name]}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
