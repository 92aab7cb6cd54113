import type { LadderEntry } from '../../server/api/ladders.js'
import { formatExposure, formatTime } from '../format.js'
import { ladderAddress, readingAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { levelName, rungNames } from '../rung-words.js'
import { processTexts } from '../texts/process.js'

const words = lifeTexts.ladders

/** Where the next step of a ladder is taken. */
export const nextAddress = ({ design, next, latest }: LadderEntry): string =>
  latest && (next === 'read-again' || next === 'wait')
    ? readingAddress(latest.readingId)
    : ladderAddress(design.ladderId)

/** A ladder in a list, with what to do next. */
export function LadderRow({ ladder }: { ladder: LadderEntry }) {
  const { design, createdAt, bottle, printer, latest, simulated, origin, next } = ladder
  const exposureS = latest?.outcome?.suggestion?.exposureS
  const level = latest?.outcome?.process?.suggestion?.level
  return (
    <a class="entry" href={nextAddress(ladder)}>
      <span class="entry-name">
        {words.ladder(design.ladderId)}
        {bottle && <span class="entry-of"> · {bottle}</span>}
      </span>
      <span class="entry-next">
        {level !== undefined && <strong class="entry-exposure">{levelName(design.factor!, level)}</strong>}
        {exposureS !== undefined && <strong class="entry-exposure">{formatExposure(exposureS)} s</strong>}
        <span class={next === 'done' ? 'step-name done' : 'step-name'}>
          {design.factor && next === 'done' ? processTexts.done : lifeTexts.next[next]}
        </span>
      </span>
      <span class="entry-time">
        {rungNames(design)} · {formatTime(createdAt)}
        {printer && ` · ${printer}`}
        {simulated && <span class="badge">{words.simulated}</span>}
        {origin === 'card' && !simulated && <span class="badge">{words.fromCard}</span>}
      </span>
    </a>
  )
}
