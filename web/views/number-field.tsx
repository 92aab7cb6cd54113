import { useId } from 'preact/hooks'
import { DecimalInput } from './decimal-input.js'

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

/** A labelled number; its limits are checked when the form is sent. */
export function NumberField({ label, value, onChange, hint, min, max, required = false, whole = false }: Props) {
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <DecimalInput
        id={id}
        value={value}
        onChange={onChange}
        whole={whole}
        required={required}
        {...(min === undefined ? {} : { min })}
        {...(max === undefined ? {} : { max })}
        {...(hint ? { 'aria-describedby': `${id}-hint` } : {})}
      />
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}
