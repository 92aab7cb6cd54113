import { useCallback } from 'preact/hooks'
import { photoUrl } from '../api-client.js'
import { formatExposure, formatTime } from '../format.js'
import { readingsOfLadder } from '../records-client.js'
import { pairAddress, readingAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { levelName } from '../rung-words.js'

const words = lifeTexts.ladder
const THUMB_PX = 240

/** The photographs of a ladder, and the way to see two of them side by side. */
export function LadderPhotos({ ladderId }: { ladderId: string }) {
  const ask = useCallback(() => readingsOfLadder(ladderId), [ladderId])
  const { reply, failure } = useLoaded(ask, words.failed)
  if (failure) return <FailureNote failure={failure} />
  const readings = reply?.readings ?? []
  const photos = new Set(readings.map(({ photoId }) => photoId))
  return (
    <div class="ladder-photos">
      <h3>{words.photos}</h3>
      {reply && readings.length === 0 && <p class="hint">{words.noPhotos}</p>}
      <ul class="thumbs">
        {readings.map(({ readingId, photoId, photoName, createdAt, outcome }) => (
          <li key={readingId}>
            <a href={readingAddress(readingId)}>
              <img src={photoUrl(photoId, THUMB_PX)} alt="" loading="lazy" />
              <span>
                {photoName} · {formatTime(createdAt)}
                {outcome?.suggestion && ` · ${formatExposure(outcome.suggestion.exposureS)} s`}
                {outcome?.process?.suggestion &&
                  ` · ${levelName(outcome.process.factor, outcome.process.suggestion.level)}`}
              </span>
            </a>
          </li>
        ))}
      </ul>
      {photos.size > 1 && (
        <a class="button" href={pairAddress(ladderId)}>
          {words.twoPhotos}
        </a>
      )}
    </div>
  )
}
