import { useId } from 'preact/hooks'
import type { PostCureReply } from '../../server/api/finish.js'
import { formatShort } from '../format.js'
import { finishTexts } from '../texts/finish.js'

const words = finishTexts.assumed
type Assumed = PostCureReply['assumed'][number]

const shown = ({ value, to, unit }: Assumed) =>
  finishTexts.range(formatShort(value), formatShort(to ?? value), unit && ` ${unit}`)

/** Values nobody gave, beside the answer that rests on them; guesses first. */
export function AssumedList({ assumed }: { assumed: PostCureReply['assumed'] }) {
  const id = useId()
  if (assumed.length === 0) return null
  const order = Object.keys(words.bases)
  const sorted = [...assumed].sort((a, b) => order.indexOf(a.basis) - order.indexOf(b.basis))
  return (
    <div class="note assumed" role="group" aria-labelledby={id}>
      <h3 id={id}>{words.title}</h3>
      <ul>
        {sorted.map((one) => (
          <li key={one.what}>
            <span class={`badge ${one.basis}`}>{words.bases[one.basis]}</span> {words.names[one.what]}: {shown(one)}
          </li>
        ))}
      </ul>
      <p class="hint">{words.advice}</p>
    </div>
  )
}
