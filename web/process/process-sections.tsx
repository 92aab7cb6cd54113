import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { measuredOf } from '../charts/process-points.js'
import { capital, formatExpanded, formatShort } from '../format.js'
import { levelName, rungName } from '../rung-words.js'
import { processTexts as words } from '../texts/process.js'
import { ValueTable } from '../views/value-table.js'
import { levelRange, type Process } from './process-answer.js'

type Response = Process['responses'][number]

/** Each response of a ladder of levels: in words, drawn against the level, and step by step. */
export function ProcessSections({ ladder }: { ladder: ReadLadder }) {
  const { process } = ladder
  return process?.responses.map((response) => <Section key={response.of} {...{ ladder, process, response }} />) ?? null
}

function Section({ ladder, process, response }: { ladder: ReadLadder; process: Process; response: Response }) {
  const { of, steps } = response
  const load = useCallback(async () => {
    const { processChart } = await import('../charts/process-chart.js')
    return (widthPx: number) => processChart(ladder, response, widthPx)
  }, [ladder, response])
  const read = measuredOf(ladder, of)
  const points = read.map(({ slot, measured }) => `${rungName(ladder.design, slot)}: ${formatExpanded(measured)}`)
  const title = capital(words.against(words.responses[of], words.factors[process.factor]))
  return (
    <section class="panel" aria-labelledby={`process-${of}`}>
      <h2 id={`process-${of}`}>{title}</h2>
      <p>{capital(inWords(process.factor, response))}.</p>
      <Chart
        load={load}
        label={words.chart(title, points.join('; '))}
        table={{
          name: `${of}-${ladder.design.ladderId}`,
          columns: ['slot', 'level', of, `${of}_u`],
          rows: read.map(({ slot, measured }) => [
            slot,
            ladder.design.levels?.[slot - 1] ?? '',
            measured.value,
            measured.standardUncertainty,
          ]),
        }}
      />
      <Key entries={[['point', words.keyPoint], ...(response.curve ? ([['curve', words.keyCurve]] as const) : [])]} />
      {steps && (
        <ValueTable label={words.steps} head={[words.steps, words.change, words.surely]}>
          <tbody>
            {steps.differences.map(({ from, to, difference, told }) => (
              <tr key={to}>
                <th scope="row">{words.step(from, to)}</th>
                <td>{formatExpanded(difference)}</td>
                <td>{told ? words.told : words.notTold}</td>
              </tr>
            ))}
          </tbody>
        </ValueTable>
      )}
    </section>
  )
}

function inWords(factor: Process['factor'], { verdict, saturating, steps, line, noPlateau }: Response): string {
  const said = words.verdicts[verdict]
  if (verdict === 'no-change') return said
  if (saturating) {
    const { change, enough } = saturating
    const size = formatExpanded({ ...change, value: Math.abs(change.value) })
    return words.levelsOff(
      said,
      size,
      levelName(factor, formatShort(enough.value)),
      levelRange(factor, enough.interval),
    )
  }
  if (line) {
    const trend = words.slope(said, formatShort(line.slope.value, 2), words.units[factor])
    return noPlateau ? `${trend}; ${words.noPlateau}` : trend
  }
  return steps?.best === undefined ? said : words.from(levelName(factor, steps.best))
}
