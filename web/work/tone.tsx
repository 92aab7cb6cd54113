import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatNumber, formatShort } from '../format.js'
import { FactList } from '../views/fact-list.js'
import { workTexts } from '../texts/work.js'
import { ValueTable } from '../views/value-table.js'
import { inMil } from '../units.js'

const words = workTexts.tone

/** Tone curve of a photograph as found on its card, with the spread of the printed black. */
export function Tone({ ladder: { tone } }: { ladder: ReadLadder }) {
  const { curve, patches, exponent, contrast, inkGainUm, residual } = tone
  const load = useCallback(async () => {
    const { toneChart } = await import('../charts/tone-chart.js')
    return (widthPx: number) => toneChart(curve ?? [], patches, widthPx)
  }, [curve, patches])
  if (!curve || patches.length === 0) return <p class="hint">{words.none}</p>
  const misfit = residual === undefined ? '' : words.misfit(formatShort(100 * residual, 2))
  return (
    <>
      <p class="hint">{words.lead}</p>
      <div class="beside">
        <div>
          <Chart load={load} label={words.label(misfit)} />
          <Key
            entries={[
              ['line', words.key.fitted],
              ['srgb', words.key.srgb],
              ['light', words.key.patch],
            ]}
          />
        </div>
        <div class="stack">
          <FactList
            facts={[
              [words.exponent, formatNumber(exponent, 3)],
              [words.contrast, formatNumber(contrast, 3)],
              [words.inkGain, `${words.um(formatNumber(inkGainUm, 1))}${inMil(inkGainUm)}`],
            ]}
          />
          {misfit && <p class="hint">{misfit}</p>}
          <ValueTable caption={words.tableTitle} head={Object.values(words.head)}>
            <tbody>
              {patches.map((patch) => (
                <tr key={`${patch.coverage} ${patch.pitchMm}`}>
                  <th scope="row">{words.percent(formatNumber(100 * patch.coverage, 0))}</th>
                  <td>{formatNumber(patch.pitchMm, 3)}</td>
                  <td>{formatNumber(patch.codeValue, 3)}</td>
                  <td>{formatNumber(patch.expectedLight, 3)}</td>
                  <td>{formatNumber(patch.readLight, 3)}</td>
                </tr>
              ))}
            </tbody>
          </ValueTable>
        </div>
      </div>
    </>
  )
}
