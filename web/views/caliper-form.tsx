import { useState } from 'preact/hooks'
import type { ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { formatExpanded, formatNumber } from '../format.js'
import { texts } from '../texts/page.js'
import { useReadAgain } from '../use-read-again.js'
import { inMil } from '../units.js'
import { FactList } from './fact-list.js'
import { FailureNote } from './failure-note.js'
import { NumberField } from './number-field.js'
import { rungName } from '../rung-words.js'

const words = texts.caliper

interface Props {
  readonly reading: ReadingReply
  readonly ladder: ReadLadder
  readonly reload: () => void
}

/** Takes caliper readings of the tabs, which anchor the absolute growth, and shows what they changed. */
export function CaliperForm({ reading, ladder, reload }: Props) {
  const { readingId, options } = reading
  const given = (slot: number) => options.caliperMm?.find((tab) => tab.slot === slot)?.widthMm
  const [typed, setTyped] = useState<Readonly<Record<number, string>>>({})
  const { start, busy, failure } = useReadAgain(readingId, reload)
  const rungs = ladder.rungs.filter((rung) => 'growthUm' in rung)
  const textOf = (slot: number) => typed[slot] ?? String(given(slot) ?? '')
  const apply = (event: Event) => {
    event.preventDefault()
    const caliperMm = rungs
      .filter(({ slot }) => textOf(slot) !== '')
      .map(({ slot }) => ({ slot, widthMm: Number(textOf(slot)) }))
    const { caliperMm: _old, ...others } = options
    start(caliperMm.length > 0 ? { ...others, caliperMm } : others)
  }
  const { caliper } = ladder
  return (
    <details class="panel quiet options" open={caliper !== undefined}>
      <summary>{words.title}</summary>
      <p class="hint">{words.lead}</p>
      {caliper && (
        <FactList
          facts={[
            [words.offset, `${words.perSide(formatExpanded(caliper.offsetUm))}${inMil(caliper.offsetUm.value)}`],
            [words.applied, `${words.perSide(formatNumber(caliper.appliedUm, 1))}${inMil(caliper.appliedUm)}`],
          ]}
          compact
        />
      )}
      <form onSubmit={apply}>
        {rungs.map(({ slot }) => (
          <NumberField
            key={slot}
            label={words.tab(slot, rungName(ladder.design, slot))}
            min={3}
            max={5}
            value={textOf(slot)}
            onChange={(value) => setTyped({ ...typed, [slot]: value })}
          />
        ))}
        {failure && <FailureNote failure={failure} />}
        <button class="main" disabled={busy}>
          {words.apply}
        </button>
      </form>
    </details>
  )
}
