import type { ReadLadder } from '../../server/api/readings.js'
import { formatExpanded, formatExposure, formatRange, formatShort } from '../format.js'
import { texts } from '../texts.js'
import { ExposureScale } from './exposure-scale.js'

type UsableRange = NonNullable<ReadLadder['usableRange']>

function reachNote({ reachesEnd: { low, high } }: UsableRange): string | undefined {
  if (low && high) return texts.answer.reachesBoth
  if (low) return texts.answer.reachesLow
  return high ? texts.answer.reachesHigh : undefined
}

function Fact({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

/** The suggested exposure, how sure it is and what limits it; without a suggestion, the facts there are. */
export function Answer({ ladder }: { ladder: ReadLadder }) {
  const words = texts.answer
  const { suggestion, usableRange, doseToSize } = ladder
  if (!suggestion && !usableRange && !doseToSize) return null
  return (
    <section class="panel answer" aria-labelledby="answer">
      <h2 id="answer">{words.title}</h2>
      {suggestion && (
        <>
          <p class="big">
            <span class="number">{formatExposure(suggestion.exposureS)}</span> <span class="unit">{words.unit}</span>
          </p>
          <p class="interval">{words.interval(formatRange(suggestion.intervalS))}</p>
        </>
      )}
      <ExposureScale ladder={ladder} />
      {suggestion && <p class="confidence">{suggestion.confidence}</p>}
      <dl class="facts">
        {usableRange && (
          <Fact name={words.usable}>
            {words.usableFor(formatRange(usableRange.rangeS), formatShort(usableRange.toleranceUm))}
            {usableRange.confidentRangeS && `; ${words.confident(formatRange(usableRange.confidentRangeS))}`}.{' '}
            {reachNote(usableRange)}
          </Fact>
        )}
        {suggestion?.limitedBy && <Fact name={words.limit}>{suggestion.limitedBy}</Fact>}
        {suggestion && (
          <Fact name={words.expected}>{words.expectedValue(formatExpanded(suggestion.expectedGrowthUm))}</Fact>
        )}
        {doseToSize && (
          <Fact name={words.doseToSize}>
            {words.doseToSizeValue(formatShort(doseToSize.exposureS), formatRange(doseToSize.intervalS))}
          </Fact>
        )}
        {suggestion && <Fact name={words.rule}>{suggestion.rule}</Fact>}
      </dl>
    </section>
  )
}
