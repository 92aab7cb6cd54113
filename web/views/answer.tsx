import type { ReadLadder } from '../../server/api/readings.js'
import { formatExpanded, formatExposure, formatNumber, formatRange, formatShort } from '../format.js'
import { confidenceOf, limitsOf, ruleOf } from '../texts/conclusions.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'
import { ExposureScale } from './exposure-scale.js'
import { FactList, type Fact } from './fact-list.js'

const words = texts.answer

type UsableRange = NonNullable<ReadLadder['usableRange']>

function reachNote({ reachesEnd: { low, high } }: UsableRange): string | undefined {
  if (low && high) return words.reachesBoth
  if (low) return words.reachesLow
  return high ? words.reachesHigh : undefined
}

function factsOf({ suggestion, usableRange, doseToSize, growthFit }: ReadLadder): Fact[] {
  const facts: Fact[] = []
  if (usableRange) {
    const { rangeS, confidentRangeS, toleranceUm, latitudePercent, latitudeRatio } = usableRange
    const sure = confidentRangeS ? `; ${words.confident(formatRange(confidentRangeS))}` : ''
    const range = words.usableFor(formatRange(rangeS), formatShort(toleranceUm))
    facts.push([words.usable, `${range}${inMil(toleranceUm)}${sure}. ${reachNote(usableRange) ?? ''}`])
    facts.push([words.latitude, words.latitudeValue(formatNumber(latitudePercent, 0), formatNumber(latitudeRatio, 2))])
  }
  if (suggestion) {
    const limits = limitsOf(suggestion)
    if (limits !== undefined) facts.push([words.limit, limits])
    facts.push([
      words.expected,
      `${words.expectedValue(formatExpanded(suggestion.expectedGrowthUm))}${inMil(suggestion.expectedGrowthUm.value)}`,
    ])
  }
  if (doseToSize) {
    const { exposureS, intervalS } = doseToSize
    facts.push([words.doseToSize, words.doseToSizeValue(formatShort(exposureS), formatRange(intervalS))])
    for (const { axis, ...size } of doseToSize.byAxis ?? [])
      facts.push([
        words.sizeAlong[axis],
        words.doseToSizeValue(formatShort(size.exposureS), formatRange(size.intervalS)),
      ])
  }
  for (const { slot, exposureS, offUm, doseToSizeWithout: without } of growthFit?.outlyingRungs ?? [])
    facts.push([
      words.outlying(slot, formatExposure(exposureS)),
      words.outlyingValue(formatNumber(offUm, 1), without ? formatShort(without.exposureS) : undefined),
    ])
  if (suggestion) facts.push([words.rule, ruleOf(suggestion)])
  return facts
}

/** The suggested exposure, how sure it is and what limits it; without a suggestion, the facts there are. */
export function Answer({ ladder }: { ladder: ReadLadder }) {
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
      {suggestion && <p class="confidence">{confidenceOf(suggestion)}</p>}
      <FactList facts={factsOf(ladder)} />
    </section>
  )
}
