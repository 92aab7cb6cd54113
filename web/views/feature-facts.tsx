import type { ReadRung } from '../../server/api/readings.js'
import { formatExpanded, formatNumber } from '../format.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'
import { FactList, type Fact } from './fact-list.js'
import type { Feature } from './features.js'

const words = texts.feature

function factsOf(rung: ReadRung, feature: Feature): Fact[] {
  switch (feature.kind) {
    case 'grating': {
      const { growthUm, grooveUm, lines, blurPx, contrast } = feature.grating
      return [
        [words.growth, `${words.um(formatExpanded(growthUm))}${inMil(growthUm.value)}`],
        [words.groove, `${words.um(formatExpanded(grooveUm))}${inMil(grooveUm.value)}`],
        [words.grooves, String(lines)],
        [words.blur, words.px(formatNumber(blurPx, 1))],
        [words.contrast, formatNumber(contrast, 2)],
      ]
    }
    case 'gap': {
      const { gapUm } = feature.gap
      return [[words.width, gapUm ? `${words.um(formatExpanded(gapUm))}${inMil(gapUm.value)}` : words.notMeasured]]
    }
    case 'line':
    case 'space':
      return []
    case 'window':
      return [
        [words.haze, rung.haze ? formatExpanded(rung.haze) : words.notMeasured],
        [words.yellowness, rung.yellownessPerMm ? formatExpanded(rung.yellownessPerMm) : words.notMeasured],
      ]
  }
}

/** The numbers of one feature. */
export function FeatureFacts({ rung, feature }: { rung: ReadRung; feature: Feature }) {
  const state: Fact[] = feature.state === undefined ? [] : [[words.state, feature.state]]
  const facts = [...state, ...factsOf(rung, feature)]
  return (
    <div class="feature" aria-live="polite">
      <h4>{feature.title}</h4>
      <FactList facts={facts} compact />
      {facts.some(([, value]) => typeof value === 'string' && value.includes('±')) && (
        <p class="hint">{words.expanded}</p>
      )}
    </div>
  )
}
