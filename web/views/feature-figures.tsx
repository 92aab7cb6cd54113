import { useCallback } from 'preact/hooks'
import type { GratingReading } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { texts } from '../texts.js'
import type { Feature } from './features.js'
import { boundingBox } from './outline.js'
import { PhotoPart, type Photo } from './photo-part.js'

const words = texts.feature

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
