import { useId } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { capital, formatShort } from '../format.js'
import { levelName } from '../rung-words.js'
import { processTexts as words } from '../texts/process.js'
import { Refusal } from '../views/refusal-list.js'

export type Process = NonNullable<ReadLadder['process']>
type Short = Omit<Process, 'responses'>

/** `4.3 to 31 min` */
export const levelRange = (factor: Process['factor'], [low, high]: readonly [number, number]): string =>
  levelName(factor, `${formatShort(low)} ${words.to} ${formatShort(high)}`)

/** The level to use, how sure that is and what it rests on; or why there is none. @param inside a part with a heading of its own */
export function ProcessAnswer({ process, inside = false }: { process: Short; inside?: boolean }) {
  const id = useId()
  const [Frame, Heading] = inside ? (['div', 'h3'] as const) : (['section', 'h2'] as const)
  const { factor, suggestion, noSuggestion, nextLevels } = process
  const lastRead = suggestion?.rule === 'last-step' && !suggestion.reached
  return (
    <Frame {...(!inside && { class: 'panel answer', 'aria-labelledby': id })}>
      <Heading id={id}>{suggestion ? (lastRead ? words.bestRead : words.title) : words.none}</Heading>
      {suggestion && (
        <>
          <p class="big">
            <span class={words.units[factor] === '' ? 'number of-letters' : 'number'}>{suggestion.level}</span>{' '}
            <span class="unit">{words.units[factor]}</span>
          </p>
          {suggestion.interval && <p class="interval">{words.interval(levelRange(factor, suggestion.interval))}</p>}
          <p class="confidence">
            {words.rules[lastRead ? 'last-read' : suggestion.rule](words.responses[suggestion.by])}
          </p>
          {suggestion.costs.map((of) => (
            <p key={of}>{capital(words.costs(words.responses[of]))}</p>
          ))}
          {!suggestion.reached && !lastRead && <p>{words.notReached}</p>}
          {(factor === 'post-cure-time' || factor === 'post-cure-stages') && <p class="hint">{words.strength}</p>}
        </>
      )}
      {noSuggestion && <Refusal refusal={noSuggestion} />}
      {nextLevels && <p>{words.next(levelName(factor, nextLevels.join('; ')))}</p>}
    </Frame>
  )
}
