import { useCallback } from 'preact/hooks'
import type { GratingReading } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import type { Feature } from './features.js'
import { boundingBox } from './outline.js'
import { PhotoPart, type Photo } from './photo-part.js'

const words = texts.feature

function ProfileFigure({ profile }: { profile: NonNullable<GratingReading['profile']> }) {
  const load = useCallback(async () => {
    const { profileChart } = await import('../charts/profile-chart.js')
    return (widthPx: number) => profileChart(profile, widthPx)
  }, [profile])
  const loadResiduals = useCallback(async () => {
    const { residualChart } = await import('../charts/profile-chart.js')
    return (widthPx: number) => residualChart(profile, widthPx)
  }, [profile])
  const { light, fitted } = profile
  const squares = light.reduce((sum, value, i) => sum + (value - (fitted[i] ?? value)) ** 2, 0)
  const residuals = words.residuals(formatShort(100 * Math.sqrt(squares / light.length), 2))
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
      <figcaption>{residuals}</figcaption>
      <Chart load={loadResiduals} label={residuals} low />
    </figure>
  )
}

/** One feature cut out of the photo and, where it was kept, the light across it. */
export function FeatureFigures({ feature, photo }: { feature: Feature; photo: Photo }) {
  const { width, height } = boundingBox(feature.outlinePx)
  const box = boundingBox(feature.outlinePx, Math.max(width, height) / 4)
  const profile = feature.kind === 'grating' ? feature.grating.profile : undefined
  return (
    <>
      <figure>
        <figcaption>{words.cutOut}</figcaption>
        <PhotoPart photo={photo} box={box} look="cut-out" label={words.cutOutAlt(feature.title)} />
      </figure>
      {profile && <ProfileFigure profile={profile} />}
    </>
  )
}
