import type { ReadingProgress, ReadingReply } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import { texts } from '../texts/page.js'
import { SimulatedNote } from './simulated-note.js'

type StageName = NonNullable<ReadingProgress['stage']>
const stages = Object.keys(texts.progress.stages) as StageName[]

/** How far the reading has come. */
export function ProgressView({ reading, progress }: { reading: ReadingReply; progress: ReadingProgress | undefined }) {
  const words = texts.progress
  const now = progress?.stage === undefined ? -1 : stages.indexOf(progress.stage)
  const current = stages[now]
  const { ahead = 0, estimatedS = 0 } = progress?.waiting ?? {}
  const waiting = ahead > 0 ? words.waiting(ahead, estimatedS) : words.queued
  const statusOf = (index: number) => (index < now ? 'done' : index === now ? 'now' : 'next')
  return (
    <section class="progress" aria-labelledby="progress">
      <h1 id="progress">{words.title}</h1>
      {reading.simulated && <SimulatedNote />}
      <div class="progress-body">
        <img class="thumb" src={photoUrl(reading.photoId, 640)} alt={words.photoAlt} />
        <div>
          <progress max={1} value={progress?.share ?? 0} aria-labelledby="progress" />
          <p role="status">{current ? words.stages[current] : waiting}</p>
          <ol class="stages">
            {stages.map((stage, index) => (
              <li key={stage} class={statusOf(index)}>
                {words.stages[stage]} <span class="hidden">({words.status[statusOf(index)]})</span>
              </li>
            ))}
          </ol>
        </div>
      </div>
      <p class="hint">{words.mayLeave}</p>
    </section>
  )
}
