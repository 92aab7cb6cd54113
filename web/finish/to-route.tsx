import { useEffect, useState } from 'preact/hooks'
import { finishTexts } from '../texts/finish.js'
import { putOnRoute } from './route-draft.js'

interface Props {
  readonly step: Parameters<typeof putOnRoute>[0]
  readonly notes: readonly string[]
  readonly minutes?: number
}

/** Puts an answer onto the route of the part. */
export function ToRoute({ step, notes, minutes }: Props) {
  const [done, setDone] = useState(false)
  useEffect(() => setDone(false), [notes.join()])
  return (
    <>
      <button type="button" onClick={() => (putOnRoute(step, notes, minutes), setDone(true))}>
        {finishTexts.toRoute}
      </button>
      <p class="hint" role="status">
        {done && finishTexts.onRoute}
      </p>
    </>
  )
}
