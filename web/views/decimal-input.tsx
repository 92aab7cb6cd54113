import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import { formatShort, inMarks, plainNumber } from '../format.js'
import { texts } from '../texts/page.js'

const words = texts.number

interface Limits {
  readonly min?: number
  readonly max?: number
  /** Whole numbers only. Default: false. */
  readonly whole?: boolean
}

interface Props extends Limits {
  /** As programs write it; empty: none. */
  readonly value: string
  /** Given the number as programs write it; empty while what is typed is none. */
  readonly onChange: (value: string) => void
  readonly id?: string
  readonly required?: boolean
  readonly onBlur?: () => void
  /** Id of what explains it. */
  readonly 'aria-describedby'?: string
}

function faultOf(typed: string, { min = -Infinity, max = Infinity, whole = false }: Limits): string {
  const plain = plainNumber(typed)
  if (typed.trim() === '') return ''
  if (plain === '') return words.none(inMarks('2.5'))
  if (whole && !Number.isInteger(Number(plain))) return words.whole
  const shown = (limit: number) => formatShort(limit, 9)
  if (Number(plain) < min) return words.least(shown(min))
  return Number(plain) > max ? words.most(shown(max)) : ''
}

/** A number typed with point or comma, whatever the browser takes for usual. The form is sent only if it is within its limits. */
export function DecimalInput({ value, onChange, min, max, whole, ...rest }: Props) {
  const input = useRef<HTMLInputElement>(null)
  const [typed, setTyped] = useState('')
  // What was typed stays as it is, unless the value was changed by other means.
  const shown = plainNumber(typed) === value ? typed : inMarks(value)
  const fault = faultOf(shown, {
    ...(min !== undefined && { min }),
    ...(max !== undefined && { max }),
    ...(whole && { whole }),
  })
  useLayoutEffect(() => input.current?.setCustomValidity(fault), [fault])
  return (
    <input
      {...rest}
      ref={input}
      type="text"
      // The pads of numbers lack the minus.
      inputMode={min === undefined || min < 0 ? 'text' : whole ? 'numeric' : 'decimal'}
      autocomplete="off"
      value={shown}
      onInput={(event) => {
        setTyped(event.currentTarget.value)
        onChange(plainNumber(event.currentTarget.value))
      }}
    />
  )
}
