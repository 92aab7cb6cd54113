import type { ReadingReply, RefusalReply } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import { Drawing } from '../help/drawings.js'
import { topicOf } from '../help/help-codes.js'
import '../style/help.css'
import { detailOf } from '../texts/details.js'
import { texts } from '../texts/page.js'
import { adviceOf, titleOf } from '../texts/reasons.js'
import { PhotoPicker } from './photo-picker.js'
import { HelpLink } from './refusal-list.js'
import { SimulatedNote } from './simulated-note.js'

/** The photograph says nothing: why, what to do, and the button to do it. */
export function RefusedView({ reading, refusal }: { reading: ReadingReply; refusal: RefusalReply }) {
  const words = texts.refused
  const topic = topicOf(refusal.code)
  const found = detailOf(refusal.detail)
  return (
    <div class="refused">
      <h1>{words.title}</h1>
      {reading.simulated && <SimulatedNote />}
      <div class="refused-body">
        <section class="panel" aria-labelledby="why">
          <h2 id="why">{titleOf(refusal.code)}</h2>
          <p class="lead">{adviceOf(refusal)}</p>
          <HelpLink code={refusal.code} />
          {topic && <Drawing topic={topic} />}
          {found && (
            <p class="hint">
              {words.found}: {found}
            </p>
          )}
        </section>
        <img class="thumb" src={photoUrl(reading.photoId, 640)} alt={words.photoAlt} />
      </div>
      <section aria-labelledby="again">
        <h2 id="again">{words.another}</h2>
        <PhotoPicker />
      </section>
    </div>
  )
}
