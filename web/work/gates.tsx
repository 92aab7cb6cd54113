import type { ReadLadder } from '../../server/api/readings.js'
import { formatShort, codeTitle } from '../format.js'
import { FactList } from '../views/fact-list.js'
import { texts } from '../texts/page.js'
import { workTexts } from '../texts/work.js'
import { ValueTable } from '../views/value-table.js'

const words = workTexts.gates

/** Quality gates of a photograph, each with its value against its limit. */
export function Gates({ ladder: { gates, tone } }: { ladder: ReadLadder }) {
  const names: Partial<Record<string, string>> = words.names
  const { sharpening } = tone
  if (gates.length === 0) return <p class="hint">{words.none}</p>
  return (
    <>
      <p class="hint">{words.lead}</p>
      <ValueTable label={texts.work.gates} head={Object.values(words.head)}>
        <tbody>
          {gates.map(({ gate, value, limit, passed }) => (
            <tr key={gate}>
              <th scope="row">{names[gate] ?? codeTitle(gate)}</th>
              <td>{value === undefined ? words.notFound : formatShort(value, 2)}</td>
              <td>{formatShort(limit, 2)}</td>
              <td class={passed ? 'verdict-good' : 'verdict-bad'}>{passed ? words.passed : words.failed}</td>
            </tr>
          ))}
        </tbody>
      </ValueTable>
      <FactList
        facts={[
          [
            words.sharpening,
            sharpening
              ? words.sharpeningValue(formatShort(sharpening.amount, 2), formatShort(sharpening.radiusPx, 2))
              : words.noSharpening,
          ],
        ]}
      />
    </>
  )
}
