import type { ReadLadder } from '../../server/api/readings.js'
import { formatExposure, formatExposures, formatRange } from '../format.js'
import { texts } from '../texts/page.js'

/** Room beyond the outermost value, as a ratio. */
const BEYOND = 1.08

/** The ladder as a ruler: its rungs, the usable range, the interval and the suggestion. */
export function ExposureScale({ ladder }: { ladder: ReadLadder }) {
  const words = texts.answer
  const { rungs, suggestion, usableRange } = ladder
  const shown = [...rungs.map((rung) => rung.exposureS), ...(suggestion?.intervalS ?? [])]
  const low = Math.min(...shown) / BEYOND
  const high = Math.max(...shown) * BEYOND
  const place = (exposureS: number) =>
    Math.min(Math.max((100 * Math.log(exposureS / low)) / Math.log(high / low), 0), 100)
  const span = ([from, to]: readonly [number, number]) => ({
    left: `${place(from)}%`,
    width: `${place(to) - place(from)}%`,
  })
  const label = [
    words.scale(formatExposures(rungs.map((rung) => rung.exposureS))),
    usableRange && words.scaleUsable(formatRange(usableRange.rangeS)),
    suggestion && words.scaleInterval(formatRange(suggestion.intervalS)),
  ]
  return (
    <div class="scale">
      <div class="scale-ruler" role="img" aria-label={label.filter(Boolean).join('; ')}>
        <div class="scale-line" />
        {usableRange && <div class="scale-usable" style={span(usableRange.rangeS)} />}
        {suggestion && <div class="scale-interval" style={span(suggestion.intervalS)} />}
        {rungs.map((rung) => (
          <div
            key={rung.slot}
            class={'growthUm' in rung ? 'scale-rung' : 'scale-rung unread'}
            style={{ left: `${place(rung.exposureS)}%` }}
          >
            {formatExposure(rung.exposureS)}
          </div>
        ))}
        {suggestion && <div class="scale-mark" style={{ left: `${place(suggestion.exposureS)}%` }} />}
      </div>
      <p class="scale-key" aria-hidden="true">
        {usableRange && (
          <span>
            <i class="swatch usable" /> {words.keyUsable}
          </span>
        )}
        {suggestion && (
          <span>
            <i class="swatch interval" /> {words.keyInterval}
          </span>
        )}
      </p>
    </div>
  )
}
