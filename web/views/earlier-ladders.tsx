import { useEffect, useState } from 'preact/hooks'
import type { LadderRecord } from '../../server/api/ladders.js'
import { listLadders } from '../api-client.js'
import { formatExposures, formatTime } from '../format.js'
import { texts } from '../texts.js'

const SHOWN = 6

/** Ladders made before, to be printed once more. */
export function EarlierLadders({ onChoose }: { onChoose: (ladder: LadderRecord) => void }) {
  const [ladders, setLadders] = useState<readonly LadderRecord[]>([])
  useEffect(() => {
    let gone = false
    listLadders().then(
      (list) => !gone && setLadders(list.ladders.slice(0, SHOWN)),
      // A convenience only: without the list everything else on the page still works.
      () => undefined,
    )
    return () => {
      gone = true
    }
  }, [])
  if (ladders.length === 0) return null
  return (
    <section aria-labelledby="earlier-ladders">
      <h2 id="earlier-ladders">{texts.print.earlier}</h2>
      <ul class="entries">
        {ladders.map((ladder) => (
          <li key={ladder.design.ladderId}>
            <button type="button" class="entry wide" onClick={() => onChoose(ladder)}>
              <span class="entry-name">{texts.history.ladder(ladder.design.ladderId)}</span>
              <span class="entry-time">
                {formatExposures(ladder.design.exposuresS)} s · {formatTime(ladder.createdAt)}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
