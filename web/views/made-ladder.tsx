import { useEffect, useRef, useState } from 'preact/hooks'
import type { LadderDesign } from '../../server/api/ladders.js'
import { cardUrl, kitUrl, type Paper } from '../api-client.js'
import { formatExposures } from '../format.js'
import { texts } from '../texts.js'

const words = texts.print
const papers: readonly Paper[] = ['a4', 'letter']

/** What is to be printed for one ladder. */
export function MadeLadder({ design }: { design: LadderDesign }) {
  const [paper, setPaper] = useState<Paper>('a4')
  const title = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    title.current?.focus({ preventScroll: true })
    title.current?.scrollIntoView({ block: 'center' })
  }, [])
  return (
    <section class="panel made" aria-labelledby="made">
      <h2 id="made" ref={title} tabIndex={-1}>
        {words.made(design.ladderId)}
      </h2>
      <p>{words.madeText(formatExposures(design.exposuresS))}</p>
      <fieldset>
        <legend>{words.paper}</legend>
        <div class="choices">
          {papers.map((name) => (
            <label key={name} class="choice">
              <input type="radio" name="paper" checked={paper === name} onChange={() => setPaper(name)} />
              {words.papers[name]}
            </label>
          ))}
        </div>
      </fieldset>
      <div class="downloads">
        <a class="button main" href={cardUrl(design, paper)} download>
          {words.card}
        </a>
        <a class="button main" href={kitUrl(design)} download>
          {words.kit}
        </a>
      </div>
      <p class="hint">
        {words.cardHint} {words.kitHint}
      </p>
    </section>
  )
}
