import type { ReadRung } from '../../server/api/readings.js'
import { formatNumber } from '../format.js'
import { sourceOf } from '../texts/details.js'
import { texts } from '../texts/page.js'
import { FactList } from './fact-list.js'
import { ValueTable } from './value-table.js'

const words = texts.photo

const { coupon, photo, all } = words.budgetShifts
const shiftsOf = ({ shared, averages }: ReadRung['uncertaintyBudget'][number]) =>
  !shared ? coupon : averages ? photo : all

/** Where the uncertainty of a coupon's growth comes from, what it adds up to, and how the coupon was seen. */
export function Budget({ rung }: { rung: ReadRung }) {
  const { uncertaintyBudget, growthUm, offAxisDeg, rotationDeg, umPerPx, inking } = rung
  const totals = [
    [words.budgetWithin, growthUm.withinPhotoUncertainty],
    [words.budgetAll, growthUm.standardUncertainty],
  ] as const
  return (
    <details>
      <summary>{words.budget}</summary>
      <p class="hint">{words.budgetLead}</p>
      <ValueTable label={words.budget} head={Object.values(words.budgetHead)}>
        <tbody>
          {uncertaintyBudget.map((term) => (
            <tr key={term.source}>
              <th scope="row">{sourceOf(term.source)}</th>
              <td>{formatNumber(term.standardUncertaintyUm, 1)}</td>
              <td>{shiftsOf(term)}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          {totals.map(([name, um]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{formatNumber(um, 1)}</td>
              <td />
            </tr>
          ))}
        </tfoot>
      </ValueTable>
      <FactList
        compact
        facts={[
          [words.inking, words.inkings[inking]],
          [words.offAxis, words.degrees(formatNumber(offAxisDeg, 1))],
          [words.turned, words.degrees(formatNumber(rotationDeg, 1))],
          [words.scale, words.scaleValue(formatNumber(umPerPx, 1))],
        ]}
      />
    </details>
  )
}
