import { useEffect, useId, useRef } from 'preact/hooks'
import { lifeTexts } from '../texts/life.js'

const words = lifeTexts.ladders
const PAUSE_MS = 200

interface Props {
  readonly label: string
  /** Told what is searched for, once typing pauses. */
  readonly search: (text: string) => void
  readonly archived: boolean
  readonly setArchived: (archived: boolean) => void
}

/** Narrows a list: by words, and to what is current or put away. */
export function ListSearch({ label, search, archived, setArchived }: Props) {
  const id = useId()
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined)
  useEffect(() => () => clearTimeout(timer.current), [])
  return (
    <search class="list-search">
      <div class="field">
        <label for={id}>{label}</label>
        <input
          id={id}
          type="search"
          onInput={(event) => {
            const text = event.currentTarget.value
            clearTimeout(timer.current)
            timer.current = setTimeout(() => search(text), PAUSE_MS)
          }}
        />
      </div>
      <div class="choices">
        {([false, true] as const).map((away) => (
          <label key={String(away)} class="choice">
            <input type="radio" name={`${id}-away`} checked={archived === away} onChange={() => setArchived(away)} />
            {away ? words.archived : words.current}
          </label>
        ))}
      </div>
    </search>
  )
}
