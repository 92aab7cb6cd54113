import { useCallback, useState } from 'preact/hooks'
import type { LadderDesign, LadderEntry } from '../../server/api/ladders.js'
import { cardUrl, kitUrl, type Paper } from '../api-client.js'
import { formatNumber } from '../format.js'
import { WarningIcon } from '../icons.js'
import { changeLadder, getPlan } from '../records-client.js'
import { texts } from '../texts/page.js'
import { lifeTexts } from '../texts/life.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { rungName } from '../rung-words.js'

const words = lifeTexts.ladder
const papers: readonly Paper[] = ['a4', 'letter']
const checks = Object.entries(words.checklist)

/** Card and coupons as files. */
export function Files({ design }: { design: LadderDesign }) {
  const [paper, setPaper] = useState<Paper>('a4')
  return (
    <>
      <fieldset>
        <legend>{texts.print.paper}</legend>
        <div class="choices">
          {papers.map((name) => (
            <label key={name} class="choice">
              <input type="radio" name="paper" checked={paper === name} onChange={() => setPaper(name)} />
              {texts.print.papers[name]}
            </label>
          ))}
        </div>
      </fieldset>
      <div class="downloads">
        <a class="button main" href={cardUrl(design, paper)} download>
          {texts.print.card}
        </a>
        <a class="button main" href={kitUrl(design)} download>
          {texts.print.kit}
        </a>
      </div>
      <p class="hint">
        {texts.print.cardHint} {texts.print.kitHint}
      </p>
    </>
  )
}

/** The order to print in and the time it takes. */
export function PrintOrder({ design }: { design: LadderDesign }) {
  const { ladderId } = design
  const ask = useCallback(() => getPlan(ladderId), [ladderId])
  const { reply, failure } = useLoaded(ask, words.failed)
  if (failure) return <FailureNote failure={failure} />
  return (
    <div class="order">
      <h3>{words.order}</h3>
      <p class="hint">{words.orderHint}</p>
      {reply && (
        <>
          <ol>
            {reply.order.map(({ slot, printS }) => (
              <li key={slot}>{words.orderRow(slot, rungName(design, slot), formatNumber(printS / 60, 0))}</li>
            ))}
          </ol>
          <p class="hint">{words.orderTotal(formatNumber(reply.totalS / 3600, 1))}</p>
        </>
      )}
    </div>
  )
}

/** What the usual cautions are, before anyone opens a bottle. */
export const Cautions = () => (
  <div class="note warning">
    <h3>
      <WarningIcon />
      {words.cautionTitle}
    </h3>
    <ul>
      {words.cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  </div>
)

interface Props {
  readonly ladder: LadderEntry
  readonly onChanged: (ladder: LadderEntry) => void
}

/** What to see to while printing; ticks are kept with the ladder. */
export function Checklist({ ladder, onChanged }: Props) {
  const { design, facts } = ladder
  const { failure, run } = useChange(words.saveFailed)
  // Shown at once; the service is told behind it.
  const [ticked, setTicked] = useState<readonly string[]>(facts.steps ?? [])
  const toggle = (name: string) => {
    const steps = ticked.includes(name) ? ticked.filter((other) => other !== name) : [...ticked, name]
    setTicked(steps)
    run(async () => onChanged(await changeLadder(design.ladderId, { facts: { ...facts, steps } })))
  }
  return (
    <>
      <ul class="checklist">
        {checks.map(([name, text]) => (
          <li key={name}>
            <label class="choice">
              <input type="checkbox" checked={ticked.includes(name)} onChange={() => toggle(name)} />
              {text}
            </label>
          </li>
        ))}
      </ul>
      {failure && <FailureNote failure={failure} />}
    </>
  )
}
