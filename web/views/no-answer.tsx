import type { LadderDesign } from '../../server/api/ladders.js'
import type { ReadLadder } from '../../server/api/readings.js'
import { formatExposures } from '../format.js'
import { LadderIcon } from '../icons.js'
import { printAddress } from '../route.js'
import { whyNext } from '../texts/conclusions.js'
import { detailOf } from '../texts/details.js'
import { texts } from '../texts/page.js'
import { adviceOf, titleOf } from '../texts/reasons.js'
import { HelpLink } from './refusal-list.js'

interface Props {
  readonly design: LadderDesign
  readonly reason: NonNullable<ReadLadder['noSuggestion']>
}

/** Why there is no suggestion, and the ladder that would give one. */
export function NoAnswer({ design, reason }: Props) {
  const { title, next, nextList, print } = texts.noAnswer
  const { exposuresS } = reason.nextLadder
  const found = detailOf(reason.detail)
  const { layerHeightUm, pixelPitchUm } = design
  return (
    <section class="panel no-answer" aria-labelledby="no-answer">
      <h2 id="no-answer">{title}</h2>
      <p class="verdict">{titleOf(reason.code)}</p>
      <p>{adviceOf(reason)}</p>
      <HelpLink code={reason.code} />
      {found && <p class="hint">{found}</p>}
      <h3>{next}</h3>
      <p class="next-list">{nextList(formatExposures(exposuresS))}</p>
      <p>{whyNext(reason.nextLadder)}</p>
      <a class="button main" href={printAddress({ layerHeightUm, pixelPitchUm, exposuresS })}>
        <LadderIcon />
        {print}
      </a>
    </section>
  )
}
