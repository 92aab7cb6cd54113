import { useId } from 'preact/hooks'
import { recordsAddress } from '../route.js'
import { finishTexts } from '../texts/finish.js'
import type { ChosenResin } from './use-resin.js'

const words = finishTexts.sheet

/** Chooses the resin whose data sheet fills in what it knows. */
export function ResinChoice({ resin: { resins, resinId, choose } }: { resin: ChosenResin }) {
  const id = useId()
  return (
    <div class="field resin-choice">
      <label for={id}>{words.resin}</label>
      <select id={id} value={resinId} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="">{words.none}</option>
        {resins.map(({ recordId, content }) => (
          <option key={recordId} value={recordId} selected={recordId === resinId}>
            {content.name}
          </option>
        ))}
      </select>
      <p class="hint">
        {words.hint}{' '}
        <a class="aside" href={recordsAddress('resin')}>
          {words.enter}
        </a>
      </p>
    </div>
  )
}
