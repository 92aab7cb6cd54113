import type { ReadLadder, ReadRung } from '../../server/api/readings.js'
import { formatExpanded, formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'
import { Refusal } from './refusal-list.js'
import { rungName } from '../rung-words.js'
import { processTexts } from '../texts/process.js'

const words = texts.rungs

function valuesOf(rung: ReadRung): [string, string][] {
  const { head, none, dash } = words
  return [
    [head.growth, `${formatExpanded(rung.growthUm)}${inMil(rung.growthUm.value)}`],
    [head.printThrough, rung.printThroughUm ? formatExpanded(rung.printThroughUm) : dash],
    [
      head.line,
      rung.smallestLineUm === null ? none : `${formatShort(rung.smallestLineUm)}${inMil(rung.smallestLineUm)}`,
    ],
    [
      head.space,
      rung.smallestSpaceUm === null ? none : `${formatShort(rung.smallestSpaceUm)}${inMil(rung.smallestSpaceUm)}`,
    ],
    [head.haze, rung.haze ? formatExpanded(rung.haze) : dash],
  ]
}

interface Props {
  readonly ladder: ReadLadder
  readonly showSlot: (slot: number) => void
}

/** Every rung with its numbers or the reason there are none. Roles are spelled out because phones show rows as cards. */
export function RungTable({ ladder, showSlot }: Props) {
  const what = { exposure: processTexts.factors[ladder.design.factor ?? 'exposure'] }
  return (
    <section class="panel rungs" aria-labelledby="rungs">
      <h2 id="rungs">{words.title}</h2>
      <table role="table" aria-labelledby="rungs">
        <thead role="rowgroup">
          <tr role="row">
            {Object.values({ ...words.head, ...what }).map((name) => (
              <th key={name} role="columnheader" scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {ladder.rungs.map((rung) => (
            <tr key={rung.slot} role="row">
              <th role="rowheader" scope="row">
                <button
                  type="button"
                  class="link"
                  aria-label={words.show(rung.slot)}
                  onClick={() => showSlot(rung.slot)}
                >
                  {rung.slot}
                </button>
              </th>
              <td role="cell" data-name={what.exposure} class="exposure">
                {rungName(ladder.design, rung.slot)}
              </td>
              {'refusal' in rung ? (
                <td role="cell" colSpan={5} class="refusal">
                  {words.notRead}: <Refusal refusal={rung.refusal} />
                </td>
              ) : (
                valuesOf(rung).map(([name, value], index) => (
                  <td key={name} role="cell" data-name={name}>
                    {value}
                    {index === 0 && rung.notes.length > 0 && (
                      <span class="hint"> ({words.partsNotRead(rung.notes.length)})</span>
                    )}
                  </td>
                ))
              )}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="hint">{words.note}</p>
    </section>
  )
}
