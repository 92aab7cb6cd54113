import { useId } from 'preact/hooks'

interface Props {
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
  readonly hint?: string
  readonly min?: number
  readonly max?: number
  readonly required?: boolean
  /** Whole numbers only. Default: false. */
  readonly whole?: boolean
}

/** A labelled number; the browser checks its limits when the form is sent. */
export function NumberField({ label, value, onChange, hint, min, max, required = false, whole = false }: Props) {
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="number"
        inputMode={whole ? 'numeric' : 'decimal'}
        step={whole ? 1 : 'any'}
        value={value}
        required={required}
        {...(min === undefined ? {} : { min })}
        {...(max === undefined ? {} : { max })}
        {...(hint ? { 'aria-describedby': `${id}-hint` } : {})}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}
