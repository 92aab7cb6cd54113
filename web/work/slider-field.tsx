import { useId, useState } from 'preact/hooks'
import { workTexts } from '../texts/work.js'
import { DecimalInput } from '../views/decimal-input.js'

interface Props {
  readonly label: string
  readonly value: number
  readonly onChange: (value: number) => void
  /** Ends of the slider; the number beside it may go on to `limits`. */
  readonly from: number
  readonly to: number
  readonly step: number
  readonly limits: readonly [number, number]
}

/** A number to drag or to type. */
export function SliderField({ label, value, onChange, from, to, step, limits }: Props) {
  const id = useId()
  const [typed, setTyped] = useState<string>()
  const type = (text: string) => {
    setTyped(text)
    const wanted = Number(text)
    if (text !== '' && wanted >= limits[0] && wanted <= limits[1]) onChange(wanted)
  }
  return (
    <div class="slider">
      <label for={id}>{label}</label>
      <DecimalInput
        id={id}
        min={limits[0]}
        max={limits[1]}
        value={typed ?? String(value)}
        onChange={type}
        onBlur={() => setTyped(undefined)}
      />
      <input
        type="range"
        aria-label={workTexts.whatIf.slider(label)}
        min={from}
        max={to}
        step={step}
        value={value}
        onInput={(event) => {
          setTyped(undefined)
          onChange(Number(event.currentTarget.value))
        }}
      />
    </div>
  )
}
