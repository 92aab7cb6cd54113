import { useId } from 'preact/hooks'
import type { Printer } from '../../server/api/records.js'
import { lifeTexts } from '../texts/life.js'
import { NumberField } from '../views/number-field.js'

const words = lifeTexts.records

export type Irradiance = NonNullable<Printer['irradiance']>

interface Props {
  readonly readings: Irradiance
  readonly onChange: (readings: Irradiance) => void
}

/** Readings of a printer's light with their dates. */
export function IrradianceField({ readings, onChange }: Props) {
  const id = useId()
  const replace = (index: number, change: Partial<Irradiance[number]>) =>
    onChange(readings.map((reading, i) => (i === index ? { ...reading, ...change } : reading)))
  return (
    <fieldset class="irradiance">
      <legend>{words.fields.irradiance}</legend>
      {readings.map(({ date, mwPerCm2, place }, i) => (
        <div key={i} class="fields">
          <div class="field">
            <label for={`${id}-date-${i}`}>{words.date}</label>
            <input
              id={`${id}-date-${i}`}
              type="date"
              required
              value={date}
              onInput={(event) => replace(i, { date: event.currentTarget.value })}
            />
          </div>
          <NumberField
            label={words.irradianceValue}
            value={Number.isNaN(mwPerCm2) ? '' : String(mwPerCm2)}
            onChange={(text) => replace(i, { mwPerCm2: text === '' ? NaN : Number(text) })}
            min={0.001}
            max={1000}
            required
          />
          <div class="field">
            <label for={`${id}-place-${i}`}>{words.place}</label>
            <input
              id={`${id}-place-${i}`}
              type="text"
              maxLength={120}
              value={place ?? ''}
              onInput={(event) => replace(i, { place: event.currentTarget.value })}
            />
          </div>
          <button type="button" onClick={() => onChange(readings.filter((_, other) => other !== i))}>
            {words.takeAway}
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() => onChange([...readings, { date: new Date().toISOString().slice(0, 10), mwPerCm2: NaN }])}
      >
        {words.addReading}
      </button>
    </fieldset>
  )
}
