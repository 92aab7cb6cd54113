import { useCallback, useState } from 'preact/hooks'
import { LadderIcon } from '../icons.js'
import { findLadders } from '../records-client.js'
import { printAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { ListSearch } from '../views/list-search.js'
import { LadderRow } from './ladder-row.js'

const words = lifeTexts.ladders
const PAGE = 25

/** All ladders, to be searched. */
export function LaddersView() {
  const [search, setSearch] = useState('')
  const [archived, setArchived] = useState(false)
  const [limit, setLimit] = useState(PAGE)
  const ask = useCallback(() => findLadders({ search, archived, limit }), [search, archived, limit])
  const { reply, failure } = useLoaded(ask, words.failed)
  return (
    <div class="print">
      <div class="head-row">
        <h1>{words.title}</h1>
        <a class="button main" href={printAddress()}>
          <LadderIcon />
          {lifeTexts.start.newLadder}
        </a>
      </div>
      <ListSearch label={words.search} search={setSearch} archived={archived} setArchived={setArchived} />
      {failure && <FailureNote failure={failure} />}
      {reply?.total === 0 && <p class="hint">{search ? words.noneFound : words.none}</p>}
      {reply && reply.total > 0 && (
        <>
          <ul class="entries">
            {reply.ladders.map((ladder) => (
              <li key={ladder.design.ladderId}>
                <LadderRow ladder={ladder} />
              </li>
            ))}
          </ul>
          <p class="hint" role="status">
            {words.count(reply.ladders.length, reply.total)}
          </p>
        </>
      )}
      {reply && reply.total > reply.ladders.length && (
        <button type="button" onClick={() => setLimit(limit + 2 * PAGE)}>
          {words.more}
        </button>
      )}
    </div>
  )
}
