import { useId } from 'preact/hooks'
import type { PostCureReply } from '../../server/api/finish.js'
import { WarningIcon } from '../icons.js'
import { finishTexts } from '../texts/finish.js'

interface Props {
  readonly cautions: PostCureReply['cautions']
  /** Inside a part of the page that has a heading of its own. Default: false. */
  readonly inside?: boolean
  /** Names of those that stand in full further up: they are told by their titles. Default: none. */
  readonly told?: readonly string[]
}

/** The cautions of a step with their sources, and what comes before them. */
export function Cautions({ cautions, inside = false, told = [] }: Props) {
  const id = useId()
  const again = cautions.filter((caution) => told.includes(caution.id)).map(({ title }) => title)
  // Many regions of one name would tell a screen reader nothing.
  const [Frame, Heading] = inside ? (['div', 'h3'] as const) : (['section', 'h2'] as const)
  return (
    <Frame class="note warning" {...(!inside && { 'aria-labelledby': id })}>
      <Heading id={id}>
        <WarningIcon />
        {finishTexts.take}
      </Heading>
      <ul>
        {cautions
          .filter((caution) => !told.includes(caution.id))
          .map((caution) => (
            <li key={caution.id}>{caution.text}</li>
          ))}
        {again.length > 0 && <li>{finishTexts.again(again.join(', '))}</li>}
        <li>{finishTexts.first}</li>
      </ul>
      <details>
        <summary>{finishTexts.route.source}</summary>
        <ul>
          {cautions.map((caution) => (
            <li key={caution.id}>
              {caution.title}: {caution.source}
            </li>
          ))}
        </ul>
      </details>
    </Frame>
  )
}
