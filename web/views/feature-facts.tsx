import { useCallback } from 'preact/hooks'
import type { GratingReading, ReadRung } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatExpanded, formatNumber } from '../format.js'
import { texts } from '../texts.js'
import type { Feature } from './features.js'

const words = texts.feature

function factsOf(rung: ReadRung, feature: Feature): [string, string][] {
  switch (feature.kind) {
    case 'grating': {
      const { growthUm, grooveUm, lines, blurPx, contrast } = feature.grating
      return [
        [words.growth, words.um(formatExpanded(growthUm))],
        [words.groove, words.um(formatExpanded(grooveUm))],
        [words.grooves, String(lines)],
        [words.blur, words.px(formatNumber(blurPx, 1))],
        [words.contrast, formatNumber(contrast, 2)],
      ]
    }
    case 'gap': {
      const { gapUm } = feature.gap
      return [[words.width, gapUm ? words.um(formatExpanded(gapUm)) : words.notMeasured]]
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

function ProfileFigure({ profile }: { profile: NonNullable<GratingReading['profile']> }) {
  const load = useCallback(async () => {
    const { profileChart } = await import('../charts/profile-chart.js')
    return (widthPx: number) => profileChart(profile, widthPx)
  }, [profile])
  return (
    <figure>
      <figcaption>{words.profile}</figcaption>
      <Chart load={load} label={words.profile} />
      <Key
        entries={[
          ['light', words.profileKey.light],
          ['fitted', words.profileKey.fitted],
        ]}
      />
    </figure>
  )
}

/** The numbers of one feature. */
export function FeatureFacts({ rung, feature }: { rung: ReadRung; feature: Feature }) {
  const profile = feature.kind === 'grating' ? feature.grating.profile : undefined
  const state: [string, string][] = feature.state === undefined ? [] : [[words.state, feature.state]]
  return (
    <div class="feature" aria-live="polite">
      <h4>{feature.title}</h4>
      <dl class="facts compact">
        {[...state, ...factsOf(rung, feature)].map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {profile && <ProfileFigure profile={profile} />}
    </div>
  )
}
