import type { ReadRung } from '../../server/api/readings.js'
import { formatExpanded, formatNumber, formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import { FactList, type Fact } from './fact-list.js'

const words = texts.clarity

/** What the window of one coupon shows beside its haze, and how the score comes about. */
export function ClarityFacts({ rung: { window } }: { rung: ReadRung }) {
  if (!window) return null
  const { surface, clarity, yellowness, score, defects, defectShare } = window
  const facts: Fact[] = [
    [words.score, formatExpanded(score)],
    [words.surface, formatExpanded(surface)],
    ...clarity.map(({ direction, pitchMm, angleDeg, kept }): Fact => [
      words.kept(words.directions[direction], formatShort(pitchMm, 2), formatNumber(angleDeg, 1)),
      formatExpanded(kept),
    ]),
    [words.deltaB(formatShort(yellowness.thicknessMm, 2)), formatExpanded(yellowness.deltaB)],
    [words.deltaYellownessIndex, formatExpanded(yellowness.deltaYellownessIndex)],
    [
      words.defects,
      defects.length === 0
        ? words.noDefects
        : words.defectsFound(
            defects.map(({ kind }) => words.kinds[kind]),
            formatNumber(100 * defectShare, 1),
          ),
    ],
  ]
  return (
    <div class="feature">
      <FactList facts={facts} compact />
      <p>{words.formula(score.formula)}</p>
      <p>{words.own}</p>
    </div>
  )
}
